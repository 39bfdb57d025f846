import { enterOwnNetwork } from './own-network.ts';

// A file of tests has a process of its own, and so a lock of sittings of its own where the system allows it.
if (process.env['STEADYRIG_TEST_NETWORK'] === 'own') enterOwnNetwork();
