import type { Collector } from '../collector.ts';
import { parseName } from '../parse.ts';
import { type Parse, present, readAll, readNames } from '../reading.ts';

/** `03/18/2024` of SMBIOS as `2024-03-18`. */
const parseDate: Parse = (text) => {
  const date = /^(\d{2})\/(\d{2})\/(\d{4})$/.exec(text.trim());
  return date === null ? null : `${date[3]}-${date[1]}-${date[2]}`;
};

export const firmwareCollector: Collector = {
  name: 'firmware',
  collect: async ({ files }) => {
    const [readings, firmware] = await Promise.all([
      readAll(files, '/sys/class/dmi/id', {
        vendor: ['bios_vendor', parseName],
        version: ['bios_version', parseName],
        date: ['bios_date', parseDate],
      }),
      readNames(files, '/sys/firmware', /^(?:efi|acpi|dmi)$/),
    ]);
    // The kernel makes /sys/firmware/efi exactly when it was started through UEFI.
    const started = firmware.ok
      ? present(firmware.value.includes('efi') ? 'UEFI' : 'not UEFI', '/sys/firmware')
      : firmware.absent;
    return { readings: { ...readings, interface: started }, items: {} };
  },
};
