const pciAddress = /^([0-9a-f]{4,8}):([0-9a-f]{2}:[0-9a-f]{2}\.[0-7])$/;
const usbPort = /^\d{1,2}-\d{1,2}(?:\.\d{1,2}){0,6}$/;
const ataPort = /^ata\d{1,3}$/;
const i2cAddress = /^\d{1,3}-(00[0-9a-f]{2})$/;
const acpiDevice = /^[A-Z]{3,4}[0-9A-F]{4}:[0-9a-f]{2}$/;
const platformName = /^[A-Za-z][\w.:-]{0,47}$/;
// A long run of digits is what serial numbers look like; addresses of platform devices have up to eight (hexadecimal).
const numbered = /[0-9a-f]{9,}/i;

/**
 * Where a device sits, out of the target of its link in /sys/class: `01:00.0`, `coretemp.0`, `00:17.0.ata1`. The same
 * after a reboot, unlike numbers that the kernel gives out in the order it finds things (hwmon2, nvme0, card1, i2c-7).
 * Null when no part of the path is of a kind that may be recorded: anything else could hold a serial number.
 */
export function deviceName(link: string): string | null {
  const parts = link.split('/');
  const kept: string[] = [];
  parts.forEach((part, index) => {
    const pci = pciAddress.exec(part);
    // Bridges on the way say nothing more: the last address is enough.
    if (pci !== null) kept.splice(0, kept.length, pciText(pci[1] ?? '', pci[2] ?? ''));
    else if (parts[index - 1] === 'platform' && isPlain(part)) kept.splice(0, kept.length, part);
    else if (acpiDevice.test(part)) kept.splice(0, kept.length, part);
    else if (usbPort.test(part)) kept.push(`usb${part}`);
    else if (ataPort.test(part)) kept.push(part);
    else if (i2cAddress.test(part)) kept.push(`i2c-${i2cAddress.exec(part)?.[1]}`);
  });
  // A port hangs off the one before it, so the last one of a kind says all.
  const ports = kept.filter((part, index) => !part.startsWith('usb') || !next(kept, index));
  return ports.length === 0 ? null : ports.join('.');
}

function next(kept: readonly string[], index: number): boolean {
  return kept[index + 1]?.startsWith('usb') === true;
}

function isPlain(part: string): boolean {
  return platformName.test(part) && !numbered.test(part);
}

function pciText(domain: string, address: string): string {
  return /^0+$/.test(domain) ? address : `${domain}:${address}`;
}

/** `coretemp.0` alone where the device already says the driver, else `nvme@01:00.0`. */
export function chipName(driver: string, device: string | null): string {
  if (device === null) return driver;
  return device === driver || device.startsWith(`${driver}.`) ? device : `${driver}@${device}`;
}

/** `Package id 0` as `package-id-0`. */
export function slug(text: string): string {
  return text
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 40);
}

const longestLabel = 40;

/** A label as it may be recorded and shown; null when nothing is left, or it holds what may be a serial number. */
export function cleanLabel(text: string): string | null {
  const label = text.replace(/\p{C}/gu, ' ').replace(/\s+/g, ' ').trim().slice(0, longestLabel);
  return label === '' || /[0-9a-f]{8,}/i.test(label) ? null : label;
}
