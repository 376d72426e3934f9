// The work in this tab: which draft it is, which kept brief it came from, and
// whether it is somebody else's, opened by a link. Drafts are written while the
// person works, so a reload or a killed tab loses nothing.
//
// The work is the brief, what stands in the form and in no brief yet, and the table of sizes.

import { isFit } from '../form/fit.js';
import { keepLastWork } from './last-work.js';
import { canonical, isReadable, originOf } from './entry.js';
import { forgetLast, lastWritten, newId, tab, writeLast } from './small-storage.js';
import { isId, isAcceptable, isPlain } from './acceptable.js';
import { Store } from './store.js';
import { held, hold, release } from './tabs.js';

/** @import { Brief } from '../types/brief.d.ts' */
/** @import { Draft, KeptBrief, Origin, Stored } from './entry.js' */
/** @import { Begun } from '../common/panels.js' */
/** @import { Linked } from '../share/codec.js' */
/** @import { Sizes } from '../sizes/size-set.js' */
/** @import { Unit } from '../plan/reckoner.js' */

/** @typedef {Pick<Draft, 'brief' | 'unplanned' | 'sizes'>} Content the work itself */
/** @typedef {Content & { id: string, kept: Origin | null, unit: Unit }} OwnWork */

const PAUSE_MS = 250;
/** Most drafts, the latest first, that are tried when the page opens. */
const MOST_TRIED = 10;
const FIELD = /^#brief=(.*)$/s;

/** @param {unknown} one @param {unknown} other */
const same = (one, other) => canonical(one ?? null) === canonical(other ?? null);
/** @template Value @param {Value} value @returns {Value} */
const copy = (value) => (value === undefined ? value : JSON.parse(JSON.stringify(value)));

/**
 * Whether a draft of a page's last moment is not yet in what the database has of it. Told by counting: a clock may be set
 * back. A page that had no database at hand could not count, and was the last to write.
 * @param {{ revision?: number }} draft @param {Draft | undefined} there
 */
const isUnseen = (draft, there) => !there || draft.revision === undefined || (there.revision ?? 0) <= draft.revision;

/**
 * Events: `change` when the kept brief, the sharing, a broken link, unknown parts or the drafts changed; `sizes`
 * when another table of sizes came with other work.
 */
export class Session extends EventTarget {
  /** The kept brief this work came from. @type {Origin | null} */
  kept = null;
  /** The table of sizes that goes with this brief. @type {Sizes | null} */
  sizes = null;
  /** Set while a brief opened by a link is shown. @type {{ text: string, edited: boolean, title: string } | null} */
  shared = null;
  /** Why the link in the address could not be opened. @type {string | null} */
  broken = null;
  /** Names of parts of the shown brief that this version does not know. @type {string[]} */
  unknown = [];
  /** The draft this tab works on. */
  id = '';
  /** What the person had before a link was opened. @type {OwnWork | null} */
  #own = null;
  /** The work as it was written last; none where all of it is to be written. @type {Content | null} */
  #baseline;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #timer;
  #askedToPersist = false;
  /** Whether a draft holds nothing that is not kept, as it was found last. @type {WeakMap<Draft, { kept: KeptBrief | undefined, is: boolean }>} */
  #compared = new WeakMap();

  /** Opens the store and takes up the work. @param {Begun} page */
  static async begin(page) {
    const session = new Session(page, await Store.open());
    await session.#begin();
    return session;
  }

  /** @param {Begun} page @param {Store} store */
  constructor({ state, form, reckoner, words, begun }, store) {
    super();
    this.state = state;
    this.form = form;
    this.reckoner = reckoner;
    this.words = words;
    this.begun = begun;
    this.store = store;
    this.#baseline = this.#work();
  }

  async #begin() {
    for (const draft of lastWritten()) await this.#takeInLast(draft);
    await this.#adopt();
    const later = () => this.#later();
    for (const event of ['change', 'settings']) this.state.addEventListener(event, later);
    this.form.addEventListener('problems', later);
    // The room where a pattern is brought knows nothing of what keeps the work.
    this.state.addEventListener('brought', (event) => void this.#takeSizes(event));
    document.addEventListener('visibilitychange', () => document.visibilityState === 'hidden' && this.#last());
    addEventListener('pagehide', () => this.#last());
    addEventListener('hashchange', () => this.#followLink());
    this.store.addEventListener('change', () => this.#tell());
    await this.#followLink();
  }

  #tell() {
    this.dispatchEvent(new Event('change'));
  }

  /** @param {Stored} draft */
  async #takeInLast(draft) {
    const { store } = this;
    if (!isReadable('drafts', draft)) {
      if (await store.setAside('drafts', draft)) forgetLast(draft);
      return;
    }
    const there = store.get('drafts', draft.id);
    const id = store.isUnread('drafts', draft.id) ? newId() : draft.id;
    if (isUnseen(draft, there)) await store.put('drafts', { ...there, ...draft, id });
    if (store.isStored('drafts', id)) forgetLast(draft);
  }

  /** Finds which draft this tab goes on with: its own, else one that no tab has, else a new one. */
  async #adopt() {
    const found = await this.#freeDraft();
    const fresh = newId();
    await hold(fresh);
    // From here on in one turn: what the person does comes before all of it or after.
    // One who was quicker than the store goes on with what they have begun, and earlier work waits among the drafts.
    const isOther = found === undefined || (this.#isQuick && !this.#isBegun(found));
    this.id = isOther ? fresh : found;
    if (isOther && found !== undefined) release(found);
    if (!isOther) release(fresh);
    tab.set('draft', this.id);
    const draft = this.store.get('drafts', this.id);
    if (draft && !this.#isQuick && !this.#isAheadOf(draft)) {
      this.#show(draft, 'keep.label.restored');
      return;
    }
    this.kept = draft?.kept ?? null;
    this.sizes = draft?.sizes ?? null;
    if (!this.#isQuick && !this.#isBegun(found)) return;
    this.#baseline = null;
    this.#later();
  }

  /** Whether the person has begun with something since the page opened, what they are still typing included. */
  get #isQuick() {
    return this.form.isTyping || this.state.canUndo || !same(this.form.unplanned, this.begun?.unplanned);
  }

  /** Whether the page opened on work that the database never got: it was on its way when the page went. @param {Draft} draft */
  #isAheadOf(draft) {
    const { begun } = this;
    if (!begun || !this.#isBegun(draft.id) || begun.revision === undefined || !isUnseen(begun, draft)) return false;
    return !same([begun.brief, begun.unplanned], [draft.brief, draft.unplanned]);
  }

  /** Whether the page opened on the work of this draft. @param {string | undefined} id */
  #isBegun(id) {
    return id !== undefined && this.begun?.id === id;
  }

  async #freeDraft() {
    const mine = tab.get('draft');
    // A tab that was duplicated starts with the other's name: it goes on in a draft of its own.
    if (this.#isFree(mine)) return (await hold(mine, { patient: true })) && this.#isAtHand(mine) ? mine : undefined;
    const begun = this.begun?.id;
    if (this.#isFree(begun) && (await hold(begun))) return begun;
    for (const draft of this.store.list('drafts').slice(0, MOST_TRIED)) {
      if (!draft.source && this.opens(draft.brief) && (await hold(draft.id))) return draft.id;
    }
    return undefined;
  }

  /** Whether a draft may be written under this id. @param {unknown} id @returns {id is string} */
  #isFree(id) {
    return isId(id) && !this.store.isUnread('drafts', id);
  }

  /** @param {string} id */
  #isAtHand(id) {
    const draft = this.store.get('drafts', id);
    return draft ? this.opens(draft.brief) : true;
  }

  /** Whether this version can show a brief, wrong values and all. @param {Brief} brief */
  opens(brief) {
    return isFit(this.reckoner.planQuick(brief));
  }

  /** Shows other work, in the unit it was made in where that is said. @param {Content & { kept?: Origin | null, unit?: Unit }} work @param {string} label */
  #show({ brief, kept = null, sizes = null, unplanned = null, unit = this.state.unit }, label) {
    this.kept = kept;
    this.sizes = sizes;
    if (unit !== this.state.unit) this.state.unit = unit;
    if (!same(brief, this.state.brief)) this.state.set(copy(brief), { label: this.words.t(label) });
    if (!same(unplanned, this.form.unplanned)) {
      if (this.form.isBehind) this.form.startOver();
      if (unplanned) this.form.resume(unplanned);
    }
    this.#baseline = this.#work();
    this.dispatchEvent(new Event('sizes'));
    if (!this.shared) keepLastWork({ id: this.id, revision: this.store.get('drafts', this.id)?.revision, brief, unplanned, unit });
    this.#tell();
    void this.#lookForUnknown(brief);
  }

  /** @param {Brief} brief */
  async #lookForUnknown(brief) {
    const known = await import('./known-fields.js').catch(() => undefined);
    // Without a network there is nothing to say yet: what is not known does no harm.
    this.unknown = known?.unknownFields(brief) ?? [];
    this.#tell();
  }

  /** The person has read which parts are not known. */
  forgetUnknown() {
    this.unknown = [];
    this.#tell();
  }

  /** @returns {Content} */
  #work() {
    return copy({ brief: this.state.brief, unplanned: this.form.unplanned, sizes: this.sizes });
  }

  /** Takes the table of the sizes that a file holds. @param {Event} event */
  async #takeSizes(event) {
    const { halves, base } = /** @type {CustomEvent} */ (event).detail;
    const { sizesOf } = await import('../sizes/size-set.js');
    this.setSizes(sizesOf(halves, base));
    this.dispatchEvent(new Event('sizes'));
  }

  /** Takes another table of sizes for this brief. @param {Sizes} sizes */
  setSizes(sizes) {
    this.sizes = copy(sizes);
    this.#later();
  }

  #later() {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.flush(), PAUSE_MS);
  }

  get #edited() {
    return !same(this.#work(), this.#baseline);
  }

  /** @returns {Draft} */
  #draft() {
    return {
      revision: 0,
      ...this.store.get('drafts', this.id),
      ...this.#work(),
      unit: this.state.unit,
      id: this.id,
      changed: new Date().toISOString(),
      kept: this.kept,
      source: this.shared?.text,
    };
  }

  /** Writes the work in progress now. */
  async flush() {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    if (!this.#edited) {
      // A unit changes no work.
      if (this.#isInOtherUnit) await this.#write();
      return;
    }
    this.#baseline = this.#work();
    if (this.shared && !this.shared.edited) {
      this.shared.edited = true;
      tab.set('shared', { text: this.shared.text, id: this.id });
      this.#tell();
    }
    await this.#write();
  }

  /** Whether the draft remembers another unit than its work is shown in by now. */
  get #isInOtherUnit() {
    const draft = this.store.get('drafts', this.id);
    return draft !== undefined && draft.unit !== this.state.unit;
  }

  async #write() {
    const draft = this.#draft();
    if (!this.shared) keepLastWork(draft);
    await this.store.put('drafts', draft);
    this.#persistOnce();
  }

  /** The page may go at any moment: what was typed is read, and written where no answer need be waited for. */
  #last() {
    this.form.readNow();
    const draft = this.#draft();
    const isHeldBack = this.store.get('drafts', this.id) && !this.store.isStored('drafts', this.id);
    if (this.#edited || isHeldBack || this.#isInOtherUnit) writeLast(draft);
    void this.flush();
  }

  #persistOnce() {
    if (this.#askedToPersist) return;
    this.#askedToPersist = true;
    void this.store.persist();
  }

  // ---- links

  async #followLink() {
    const text = FIELD.exec(location.hash)?.[1];
    if (text === undefined) {
      if (this.shared) this.backToOwn();
      return;
    }
    if (this.shared?.text === text) return;
    const linked = await this.#read(text);
    if (!linked) return;
    const { brief } = linked;
    const before = tab.get('shared');
    const isSame = isPlain(before) && before.text === text && isId(before.id);
    const edited = isSame ? this.store.get('drafts', String(before.id)) : undefined;
    const id = edited?.id ?? newId();
    await hold(id);
    this.#leaveWork();
    if (!this.shared) this.#own = { id: this.id, kept: this.kept, unit: this.state.unit, ...this.#work() };
    this.id = id;
    this.shared = { text, edited: Boolean(edited), title: typeof brief.title === 'string' ? brief.title : '' };
    this.#show(edited ? { ...edited, kept: null } : linked, 'share.label.opened');
  }

  /** What a link's text brings, or nothing; `broken` then says why. @param {string} text @returns {Promise<Linked | undefined>} */
  async #read(text) {
    this.broken = null;
    let code = 'not_fetched';
    try {
      const { decodeLink } = await import('../share/codec.js');
      code = 'not_a_brief';
      const linked = decodeLink(text);
      const { brief } = linked;
      const { plan, errors } = this.reckoner.plan(brief);
      if (plan && isAcceptable(brief)) return linked;
      if (brief.version > 1 && errors?.some(({ field }) => field === 'version')) code = 'newer';
    } catch (error) {
      code = error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : code;
    }
    this.broken = code;
    this.#tell();
    return undefined;
  }

  /** Tries the link of the address once more. */
  async readAgain() {
    this.broken = null;
    this.#tell();
    await this.#followLink();
  }

  /** The person has read that the link is broken. */
  forgetBroken() {
    this.broken = null;
    if (!this.shared) history.replaceState(history.state, '', location.pathname + location.search);
    this.#tell();
  }

  /**
   * The work gives way to other work: what stands in the fields until now belongs to it, what is typed from now on does not.
   * So the other must be shown in the same turn, and a field that is being typed in is left.
   */
  #leaveWork() {
    this.form.leave();
    void this.flush();
  }

  #leaveLink() {
    this.shared = null;
    tab.remove('shared');
    history.replaceState(history.state, '', location.pathname + location.search);
  }

  /** Keeps the shown brief as the person's own work; what they had before stays among the drafts. */
  async makeOwn() {
    if (!this.shared) return;
    this.#leaveLink();
    if (this.#own) release(this.#own.id);
    this.#own = null;
    this.kept = null;
    tab.set('draft', this.id);
    this.#baseline = this.#work();
    await this.#write();
    this.#tell();
  }

  /** Goes back to what the person had before a link was opened. */
  backToOwn() {
    if (!this.shared) return;
    this.#leaveWork();
    release(this.id);
    this.#leaveLink();
    const own = this.#own;
    this.#own = null;
    if (!own) return;
    this.id = own.id;
    this.#show(own, 'keep.label.restored');
  }

  // ---- kept briefs and drafts

  /** The kept brief this work came from, where it is still there. */
  get keptEntry() {
    return this.kept ? this.store.get('briefs', this.kept.id) : undefined;
  }

  /** Whether the work differs from what is kept of it. */
  get unkept() {
    const { keptEntry } = this;
    return !keptEntry || !this.#isKeptAs(keptEntry, this.#work());
  }

  /** @param {KeptBrief} kept @param {Content} work */
  #isKeptAs(kept, { brief, sizes, unplanned }) {
    return same(kept.brief, brief) && same(kept.sizes, sizes) && !unplanned;
  }

  // Entries are never changed, only put in each other's place: what was found of two of them holds.
  /** @param {Draft} draft */
  #isAllKept(draft) {
    const kept = draft.kept ? this.store.get('briefs', draft.kept.id) : undefined;
    const known = this.#compared.get(draft);
    if (known && known.kept === kept) return known.is;
    const is = kept !== undefined && this.#isKeptAs(kept, draft);
    this.#compared.set(draft, { kept, is });
    return is;
  }

  /**
   * Keeps the work: in place of what it came from, or as something new.
   * @param {string} name
   * @param {{ asNew?: boolean }} [how]
   * @returns {Promise<{ entry: KeptBrief, beside: boolean }>}
   */
  async keep(name, { asNew = false } = {}) {
    const { brief, sizes } = this.#work();
    const content = { brief, sizes: sizes ?? undefined, unit: this.state.unit };
    const before = asNew ? undefined : this.keptEntry;
    const put =
      before && (await this.store.put('briefs', { ...before, name: name || before.name, ...content, revision: this.kept?.revision }));
    const result = put ?? { entry: await this.store.add('briefs', name, content), beside: false };
    if (this.shared) await this.makeOwn();
    this.kept = originOf(result.entry);
    this.#baseline = this.#work();
    await this.#write();
    this.#tell();
    return result;
  }

  /**
   * Starts from a kept brief or another draft; unfinished work stays among the drafts.
   * @returns {Promise<boolean>} false where this version cannot show it
   * @param {'briefs' | 'drafts'} kind @param {string} id
   */
  async open(kind, id) {
    const entry = this.store.get(kind, id);
    if (!entry || !this.opens(entry.brief)) return false;
    if (id === this.id) return true;
    const next = kind === 'drafts' ? id : newId();
    await hold(next);
    this.#leaveWork();
    if (this.shared) this.#leaveLink();
    const left = this.store.get('drafts', this.id);
    if (left && !this.unkept) void this.store.remove('drafts', left.id);
    for (const other of [this.id, this.#own?.id]) if (other && other !== next) release(other);
    this.#own = null;
    this.id = next;
    tab.set('draft', this.id);
    const kept = kind === 'drafts' ? (entry.kept ?? null) : originOf(entry);
    this.#show({ ...entry, kept }, 'keep.label.opened');
    await this.#write();
    return true;
  }

  /** The drafts that no open tab works on, without those that hold nothing of their own. */
  async unfinished() {
    const busy = await held();
    return this.store.list('drafts').filter((draft) => {
      return draft.id !== this.id && draft.id !== this.#own?.id && !busy.has(draft.id) && !this.#isAllKept(draft);
    });
  }
}
