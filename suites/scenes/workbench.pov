// A workbench with glass, metal and small parts: reflection, refraction, soft shadows, unions and differences.
// Uses nothing but what POV-Ray 3.7 has built in, so no include files are needed.
#version 3.7;

global_settings {
  assumed_gamma 1.0
  max_trace_level 12
}

camera {
  location <-5.2, 4.6, -9.5>
  look_at <0, 0.9, 0.4>
  right x * image_width / image_height
  angle 42
}

// A lamp with an area, for shadows with soft edges.
light_source {
  <7, 11, -6>, rgb <1.0, 0.95, 0.85>
  area_light <2.5, 0, 0>, <0, 0, 2.5>, 5, 5
  adaptive 1
  jitter
  circular
  orient
}
light_source { <-9, 6, -4>, rgb <0.22, 0.26, 0.34> shadowless }

sky_sphere {
  pigment {
    gradient y
    color_map { [0 rgb <0.75, 0.80, 0.85>] [1 rgb <0.20, 0.30, 0.50>] }
  }
}

// The top of the bench, of long boards.
plane {
  y, 0
  texture {
    pigment {
      wood
      turbulence 0.08
      octaves 5
      scale <0.35, 0.35, 4>
      rotate <2, 78, 1>
      color_map {
        [0.0 rgb <0.48, 0.30, 0.16>]
        [0.6 rgb <0.58, 0.38, 0.21>]
        [1.0 rgb <0.38, 0.22, 0.11>]
      }
    }
    normal { bumps 0.06 scale <0.05, 0.05, 0.8> }
    finish { ambient 0.02 diffuse 0.7 specular 0.2 roughness 0.04 reflection 0.06 }
  }
}

#declare Steel = texture {
  pigment { rgb <0.62, 0.64, 0.68> }
  finish { ambient 0 diffuse 0.25 specular 0.7 roughness 0.01 metallic reflection { 0.55 metallic } }
}

#declare Brass = texture {
  pigment { rgb <0.80, 0.58, 0.24> }
  finish { ambient 0 diffuse 0.3 specular 0.6 roughness 0.02 metallic reflection { 0.4 metallic } }
}

#declare Glass = material {
  texture {
    pigment { rgbf <0.97, 0.99, 0.98, 0.92> }
    finish { ambient 0 diffuse 0.02 specular 0.8 roughness 0.002 reflection { 0.02, 1.0 fresnel } conserve_energy }
  }
  interior { ior 1.5 fade_distance 3 fade_power 1001 fade_color <0.55, 0.85, 0.80> }
}

// A gear: a disc with teeth, a bore and six holes.
#macro Gear(Radius, Teeth, Thickness)
  difference {
    union {
      cylinder { 0, y * Thickness, Radius }
      #for (Tooth, 0, Teeth - 1)
        box {
          <Radius - 0.06, 0, -1.35 * Radius / Teeth>, <Radius * 1.13, Thickness, 1.35 * Radius / Teeth>
          rotate y * 360 * Tooth / Teeth
        }
      #end
    }
    cylinder { -y, y * (Thickness + 1), Radius * 0.22 }
    #for (Hole, 0, 5)
      cylinder { -y, y * (Thickness + 1), Radius * 0.16 translate x * Radius * 0.58 rotate y * 60 * Hole }
    #end
  }
#end

object { Gear(1.5, 24, 0.35) texture { Steel } rotate x * -62 translate <1.6, 1.45, 1.9> }
object { Gear(1.0, 16, 0.30) texture { Brass } translate <-2.3, 0, 0.6> }
object { Gear(0.7, 12, 0.30) texture { Steel } rotate y * 11 translate <-2.9, 0.3, 0.9> }

// A jar of glass with marbles in it.
union {
  difference {
    cylinder { <0, 0, 0>, <0, 2.1, 0>, 0.95 }
    cylinder { <0, 0.08, 0>, <0, 2.2, 0>, 0.87 }
    material { Glass }
  }
  #local Dice = seed(2024);
  #for (Layer, 0, 3)
    #for (Marble, 0, 5)
      sphere {
        <0.52, 0.36 + 0.44 * Layer, 0>, 0.255
        rotate y * (60 * Marble + 30 * Layer)
        texture {
          pigment { rgb <0.25 + 0.7 * rand(Dice), 0.2 + 0.6 * rand(Dice), 0.25 + 0.6 * rand(Dice)> }
          finish { ambient 0.02 diffuse 0.6 specular 0.7 roughness 0.005 reflection 0.1 }
        }
      }
    #end
  #end
  translate <0, 0, -0.4>
}

// Nuts in a row, each a six-sided prism with a bore.
#for (Nut, 0, 8)
  difference {
    prism {
      linear_sweep
      linear_spline
      0, 0.28, 7
      <1, 0>, <0.5, 0.866>, <-0.5, 0.866>, <-1, 0>, <-0.5, -0.866>, <0.5, -0.866>, <1, 0>
      scale <0.34, 1, 0.34>
    }
    cylinder { -y, y, 0.17 }
    texture { #if (mod(Nut, 2) = 0) Steel #else Brass #end }
    rotate y * 37 * Nut
    translate <-1.9 + 0.62 * Nut, 0, -2.4 + 0.12 * sin(Nut)>
  }
#end

// A lens standing on its edge.
intersection {
  sphere { <0, 0, -1.35>, 1.7 }
  sphere { <0, 0, 1.35>, 1.7 }
  material { Glass }
  rotate y * 24
  translate <2.9, 1.04, -0.9>
}
