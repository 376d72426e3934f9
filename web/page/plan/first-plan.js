// The plan of the example as the build had it from the core, rounded: what a first visit shows while the core is still on its way.

import plan from '../../pkg/example_plan.json' with { type: 'json' };

/** @import { Brief } from '../types/brief.d.ts' */

/**
 * A reckoner that knows the example's plan without the core, and asks the core for everything else.
 * @param {import('./reckoner.js').Reckoner} reckoner
 * @param {Brief} example the example's brief
 * @returns {import('./reckoner.js').Reckoner}
 */
export const knowingExample = (reckoner, example) => ({
  ...reckoner,
  plan: (brief) => (brief === example ? { plan } : reckoner.plan(brief)),
});
