import { describe, expect, it } from 'vitest';
import { chipName, cleanLabel, deviceName } from '../../../../src/rig/sensors/device-name.ts';

describe('deviceName', () => {
  it.each([
    ['../../devices/platform/coretemp.0/hwmon/hwmon2', 'coretemp.0'],
    ['../../devices/pci0000:00/0000:00:18.3/hwmon/hwmon1', '00:18.3'],
    ['../../devices/pci0000:00/0000:00:06.0/0000:01:00.0/nvme/nvme0/hwmon/hwmon1', '01:00.0'],
    ['../../devices/pci0001:00/0001:00:06.0/hwmon/hwmon1', '0001:00:06.0'],
    [
      '../../devices/pci0000:00/0000:00:17.0/ata1/host0/target0:0:0/0:0:0:0/hwmon/hwmon4',
      '00:17.0.ata1',
    ],
    ['../../devices/pci0000:00/0000:00:14.0/i2c-7/7-0051/hwmon/hwmon3', '00:14.0.i2c-0051'],
    [
      '../../devices/pci0000:00/0000:00:14.0/usb1/1-4/1-4.2/1-4.2:1.0/0003:1234:5678.0001/hwmon/hwmon5',
      '00:14.0.usb1-4.2',
    ],
    ['../../devices/virtual/hwmon/hwmon7', null],
  ])('of %s is %s', (link, name) => {
    expect(deviceName(link)).toBe(name);
  });

  it('drops what could be a serial number or an address', () => {
    expect(deviceName('../../devices/platform/decoy-0123456789ab/hwmon/hwmon0')).toBeNull();
    expect(deviceName('../../devices/virtual/misc/de:ca:de:00:be:ef/hwmon/hwmon0')).toBeNull();
    expect(cleanLabel('Disk 0123456789AB')).toBeNull();
  });

  it('is the same for other numbers of the bus and of the chip', () => {
    expect(deviceName('../../devices/pci0000:00/0000:00:14.0/i2c-2/2-0051/hwmon/hwmon9')).toBe(
      '00:14.0.i2c-0051',
    );
  });
});

describe('chipName', () => {
  it('names the driver once', () => {
    expect(chipName('coretemp', 'coretemp.0')).toBe('coretemp.0');
    expect(chipName('nvme', '01:00.0')).toBe('nvme@01:00.0');
    expect(chipName('exampleboard', null)).toBe('exampleboard');
  });
});
