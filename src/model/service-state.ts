export const serviceStateSchema = 'steadyrig/service/1';

/** Boots in a row in which the service could not go on with a sitting; more of them end the service. */
export const mostFailedBoots = 2;

/** `service.json` beside the data of an unfinished sitting: how the service that continues it at boot fares. */
export interface ServiceState {
  readonly schema: typeof serviceStateSchema;
  /** Boots in a row, this one included, that finished no run so far. */
  readonly failedBoots: number;
  /** Of the last of them. */
  readonly bootId: string | null;
  /** RFC 3339, UTC. */
  readonly at: string;
}
