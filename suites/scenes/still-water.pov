// Islands in still water under haze: an isosurface with noise, radiosity, a medium. Few objects, much arithmetic.
// Uses nothing but what POV-Ray 3.7 has built in, so no include files are needed.
#version 3.7;

global_settings {
  assumed_gamma 1.0
  max_trace_level 6
  radiosity {
    pretrace_start 0.08
    pretrace_end 0.04
    count 30
    error_bound 1.2
    recursion_limit 1
    nearest_count 6
  }
}

camera {
  location <0, 2.3, -9>
  look_at <0, 0.9, 2>
  right x * image_width / image_height
  angle 50
}

light_source { <-60, 45, -30>, rgb <1.25, 1.1, 0.9> }

sky_sphere {
  pigment {
    gradient y
    color_map {
      [0.0 rgb <0.90, 0.80, 0.70>]
      [0.3 rgb <0.55, 0.66, 0.82>]
      [1.0 rgb <0.16, 0.28, 0.55>]
    }
  }
  pigment {
    bozo
    turbulence 0.7
    octaves 6
    scale <0.35, 0.12, 0.35>
    color_map {
      [0.0 rgbt <1, 1, 1, 1>]
      [0.6 rgbt <1, 1, 1, 0.9>]
      [1.0 rgbt <1, 0.98, 0.95, 0.25>]
    }
  }
}

// Rock: a rounded hill whose surface is roughened in several sizes.
#declare Rough = function {
  pigment {
    granite
    turbulence 0.2
    scale 3
    color_map { [0 rgb 0] [1 rgb 1] }
  }
}
#declare Hill = function (x, y, z, Height, Width) {
  y - Height * exp(-(x * x + z * z) / (Width * Width)) + 0.35
}

#macro Island(Height, Width, Slope)
  isosurface {
    function { Hill(x, y, z, Height, Width) - 0.55 * Rough(x, y, z).gray }
    contained_by { box { <-4, -0.4, -4>, <4, Height + 0.6, 4> } }
    accuracy 0.01
    max_gradient Slope
    texture {
      pigment {
        slope y
        color_map {
          [0.50 rgb <0.30, 0.27, 0.25>]
          [0.72 rgb <0.42, 0.38, 0.33>]
          [0.88 rgb <0.20, 0.30, 0.12>]
          [1.00 rgb <0.26, 0.38, 0.15>]
        }
      }
      finish { ambient 0 diffuse 0.8 }
    }
  }
#end

object { Island(2.6, 1.7, 4.0) translate <-2.4, 0, 3.5> }
object { Island(1.7, 1.3, 3.8) rotate y * 70 translate <3.1, 0, 1.6> }
object { Island(3.4, 2.2, 4.2) rotate y * 140 translate <2.2, 0, 9.5> }

plane {
  y, 0
  texture {
    pigment { rgb <0.03, 0.07, 0.09> }
    normal { bumps 0.05 scale <0.5, 0.1, 0.18> }
    finish { ambient 0 diffuse 0.25 specular 0.5 roughness 0.003 reflection { 0.05, 0.95 fresnel } conserve_energy }
  }
  interior { ior 1.33 }
}

fog {
  fog_type 2
  distance 28
  rgb <0.78, 0.78, 0.80>
  fog_offset 0.1
  fog_alt 0.8
}
