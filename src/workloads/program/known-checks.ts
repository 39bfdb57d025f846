import type { ShippedName } from '../../model/shipped.ts';
import { shippedCatalog } from '../../model/shipped-catalog.ts';
import type { Parameters } from '../../model/suite.ts';

// A run with the default parameters must reach these, on whatever machine and with however many threads. Those of
// deflate, brotli, hash, encrypt and json-sort were confirmed once by Python's hashlib, json and sort and by the
// openssl program; the others are what one machine found.
const checks: Readonly<Record<ShippedName, string>> = {
  deflate: '385e9d74f5bf5a726d1ce3a312337a0efeb13f5da94495dc2c21d77a3c1b438a',
  brotli: '5fd8e8dd03625e20bb638040804bf587eac5b1d5b3901b7ce39124146df29086',
  'path-trace': '4b7dbe5962119d2434467503dd6f006f1d4bb69f93f1e92bf8d1f74d789e72c9',
  hash: '1169f105ed38cbd05284950aa67a7a55b6e9d67a1f6be37267eddef4ec853ffe',
  encrypt: 'c9c08d82a89d849d14f629ae3b026c854aad9ba1837a35de171fa2cadc08a427',
  'memory-copy': '8b970000',
  'memory-latency': '2d295688930f144cf9abbdce6581e8f4ab693fdf4097ac12e3538bae63aa8a0c',
  'json-sort': 'd604a8de4cf49ccca2a1f1240c6e0f56ad045c91974d7cb14c06ca90cd089b1e',
};

/** The check value that these parameters must give, or null where it is not on record. */
export function knownCheck(name: ShippedName, parameters: Parameters): string | null {
  const rules = Object.entries(shippedCatalog[name].parameters);
  const isDefault = rules.every(
    ([key, rule]) => rule.kind === 'threads' || parameters[key] === rule.default,
  );
  return isDefault ? checks[name] : null;
}
