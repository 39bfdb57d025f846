export interface OwnSitting {
  readonly startedAt: Date;
  readonly suite: string;
}

/** What the id of a measured sitting of this rig says; null for any other name. */
export function ownSitting(name: string, rig: string): OwnSitting | null {
  const parts = /^(\d{4})(\d\d)(\d\d)T(\d\d)(\d\d)(\d\d)Z-(.+)-[0-9a-f]{4}$/.exec(name);
  const rest = parts?.[7];
  if (parts === null || rest === undefined || !rest.startsWith(`${rig}-`)) return null;
  const [, year, month, day, hour, minute, second] = parts;
  const startedAt = new Date(`${year}-${month}-${day}T${hour}:${minute}:${second}Z`);
  if (Number.isNaN(startedAt.getTime())) return null;
  return { startedAt, suite: rest.slice(rig.length + 1) };
}
