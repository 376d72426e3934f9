// What the page knows: the brief, the plan made of it, what is wrong, and the way back.

/** @import { Brief } from '../types/brief.d.ts' */
/** @import { Plan } from '../types/plan.d.ts' */
/** @import { Reckoner, Unit } from '../plan/reckoner.js' */
/** @import { Problem } from '../form/errors.js' */

/** @typedef {{ reckoner: Reckoner, unit?: Unit, language?: string }} Options */
/** @typedef {{ brief: Brief, label: string }} Kept a step of the way back */

/** How many steps back are kept: an afternoon's changes. */
const MOST_STEPS = 200;

/**
 * @param {Brief} brief
 * @param {Options} options
 */
export function createState(brief, options) {
  return new State(brief, options);
}

/**
 * Emits `change` when the brief changes, `plan` when the plan, the errors or their staleness do, and `settings` when
 * unit or language do; `step` when a step was taken back or done again. While a line is dragged each good plan is a `drag` instead, for those alone who follow the
 * finger: the commit emits `change` and `plan`. `plan` is the last good plan; `stale` says that it is older than what stands in the brief.
 */
export class State extends EventTarget {
  #reckoner;
  #committed;
  /** @type {Kept[]} */
  #past = [];
  /** @type {Kept[]} */
  #future = [];
  #unit;
  #language;

  /** @param {Brief} brief @param {Options} options */
  constructor(brief, { reckoner, unit = 'mm', language = 'en' }) {
    super();
    this.#reckoner = reckoner;
    this.#unit = unit;
    this.#language = language;
    this.#committed = brief;
    this.brief = brief;
    /** @type {Plan | null} */
    this.plan = null;
    /** The brief that the plan is of: an earlier one where the plan is stale. */
    this.planned = brief;
    /** @type {Problem[]} */
    this.errors = [];
    this.stale = false;
    /** Whether ranges are missing from the plan, as while a line is dragged. */
    this.quick = false;
    /** Whether a line is being dragged: what the eye does not follow waits for the commit. */
    this.isDragging = false;
    this.#reckon(false);
  }

  get unit() {
    return this.#unit;
  }
  set unit(unit) {
    this.#unit = unit;
    this.#emit('settings');
  }
  get language() {
    return this.#language;
  }
  set language(language) {
    this.#language = language;
    this.#emit('settings');
  }
  get canUndo() {
    return this.#past.length > 0;
  }
  get canRedo() {
    return this.#future.length > 0;
  }
  get undoLabel() {
    return this.#past.at(-1)?.label ?? '';
  }
  get redoLabel() {
    return this.#future.at(-1)?.label ?? '';
  }

  /**
   * Takes a new brief. A transient one, as while dragging, which comes once a frame, is planned without ranges and leaves
   * no step; the commit that follows leaves one step for the whole drag.
   * @param {Brief} brief
   * @param {{ label?: string, transient?: boolean }} [how]
   */
  set(brief, { label = '', transient = false } = {}) {
    if (transient) {
      this.brief = brief;
      this.isDragging = true;
      this.#reckon(true);
      return;
    }
    if (!same(brief, this.#committed)) {
      this.#past.push({ brief: this.#committed, label });
      if (this.#past.length > MOST_STEPS) this.#past.shift();
      this.#future = [];
    }
    this.#take(brief);
  }

  /** Shows errors found before a brief could be made: the last good plan stays, as an older one. @param {Problem[]} errors */
  report(errors) {
    this.errors = errors;
    this.stale = this.plan !== null;
    this.#emit('plan');
  }

  /** Starts over from a brief, with no way back to the one before. @param {Brief} brief */
  reset(brief) {
    this.#past = [];
    this.#future = [];
    this.plan = null;
    this.#take(brief);
  }

  undo() {
    this.#step(this.#past, this.#future);
  }
  redo() {
    this.#step(this.#future, this.#past);
  }

  /** @param {Kept[]} from @param {Kept[]} to */
  #step(from, to) {
    // The commit that ends a drag would come on top of another brief than it began with.
    if (this.isDragging) return;
    const step = from.pop();
    if (!step) return;
    to.push({ brief: this.#committed, label: step.label });
    this.#take(step.brief);
    this.#emit('step');
  }

  /** @param {Brief} brief */
  #take(brief) {
    this.isDragging = false;
    this.brief = brief;
    this.#committed = brief;
    this.#emit('change');
    this.#reckon(false);
  }

  /** @param {boolean} quick */
  #reckon(quick) {
    const wasWrong = this.stale || this.errors.length > 0;
    const answer = quick ? this.#reckoner.planQuick(this.brief) : this.#reckoner.plan(this.brief);
    if (answer.plan) {
      this.#keep(answer.plan, quick);
      this.errors = [];
      this.stale = false;
    } else {
      this.errors = answer.errors;
      this.stale = this.plan !== null;
      // A drag that ends on a line that is refused: the last good one gets its ranges now.
      const whole = this.quick && !quick && this.#reckoner.plan(this.planned).plan;
      if (whole) this.#keep(whole, false, this.planned);
    }
    this.#emit(quick && answer.plan && !wasWrong ? 'drag' : 'plan');
  }

  /** @param {Plan} plan @param {boolean} quick @param {Brief} [planned] */
  #keep(plan, quick, planned = this.brief) {
    this.plan = plan;
    this.quick = quick;
    this.planned = planned;
  }

  /** @param {string} name */
  #emit(name) {
    this.dispatchEvent(new Event(name));
  }
}

/** Whether two briefs say the same. @param {unknown} a @param {unknown} b @returns {boolean} */
export function same(a, b) {
  if (a === b) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || !a || !b) return false;
  const [parts, others] = [new Map(Object.entries(a)), new Map(Object.entries(b))];
  return parts.size === others.size && [...parts].every(([key, part]) => same(part, others.get(key)));
}
