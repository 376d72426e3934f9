// The plans of the example as the build had them from the core, rounded: what a first visit shows while the core is still on its way.

/** @import { Brief } from '../types/brief.d.ts' */
/** @import { Plan } from '../types/plan.d.ts' */
/** @import { Reckoner, Unit } from './reckoner.js' */

/** Where the example's plan is, by someone who measures in a unit: beside this module under a name of the build. @param {Unit} unit */
export const firstPlanOf = (unit) =>
  unit === 'in'
    ? new URL('../../../target/pkg/example-plan-in.json', import.meta.url)
    : new URL('../../../target/pkg/example-plan.json', import.meta.url);

/** The example's plan; nothing where it does not come, and the core is waited for. @param {Unit} unit @returns {Promise<Plan | undefined>} */
export async function loadFirstPlan(unit) {
  try {
    const response = await fetch(firstPlanOf(unit));
    return response.ok ? await response.json() : undefined;
  } catch {
    return undefined;
  }
}

/**
 * A reckoner that knows the example's plan without the core, and asks the core for everything else.
 * @param {Reckoner} reckoner @param {Brief} example the example's brief @param {Plan} [plan]
 * @returns {Reckoner}
 */
export const knowingExample = (reckoner, example, plan) => ({
  ...reckoner,
  plan: (brief) => (plan && brief === example ? { plan } : reckoner.plan(brief)),
});
