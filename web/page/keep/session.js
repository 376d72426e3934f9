// The work in this tab: which draft it is, which kept brief it came from, and
// whether it is somebody else's, opened by a link. Drafts are written while the
// person works, so a reload or a killed tab loses nothing.

import { canonical } from './merge.js';
import { takeLast, tab, writeLast } from './scraps.js';
import { Store, newId } from './store.js';
import { held, hold, release } from './tabs.js';

const PAUSE_MS = 250;
const FIELD = /^#brief=(.*)$/s;

const same = (one, other) => canonical(one) === canonical(other);
const copy = (value) => JSON.parse(JSON.stringify(value));

/**
 * Event: `change` when the kept brief, the sharing, a broken link or the drafts changed.
 */
export class Session extends EventTarget {
  /** The kept brief this work came from. @type {{ id: string, revision: number } | null} */
  kept = null;
  /** Set while a brief opened by a link is shown. @type {{ text: string, edited: boolean, title: string } | null} */
  shared = null;
  /** Why the link in the address could not be opened. @type {string | null} */
  broken = null;
  #own = null;
  #baseline;
  #timer = 0;
  #askedToPersist = false;

  constructor({ state, reckoner, words, store }) {
    super();
    Object.assign(this, { state, reckoner, words, store });
    this.#baseline = copy(state.brief);
  }

  /** Takes up the work: a draft of this tab, else one that no tab has, else the page's own beginning. */
  async begin() {
    for (const draft of takeLast()) await this.#takeInLast(draft);
    await this.#adopt();
    this.state.addEventListener('change', () => this.#later());
    document.addEventListener('visibilitychange', () => document.visibilityState === 'hidden' && this.flush());
    addEventListener('pagehide', () => this.#last());
    addEventListener('hashchange', () => this.#followLink());
    this.store.addEventListener('change', () => this.#tell());
    await this.#followLink();
  }

  #tell() {
    this.dispatchEvent(new Event('change'));
  }

  async #takeInLast(draft) {
    const there = this.store.get('drafts', draft.id);
    if (!there || (there.changed ?? '') < (draft.changed ?? '')) {
      await this.store.put('drafts', { ...there, ...draft });
    }
  }

  async #adopt() {
    const mine = tab.get('draft');
    if (this.state.canUndo) {
      // The person was quicker than the store: what they have begun stays, and earlier work waits among the drafts.
      this.id = newId();
      this.#baseline = null;
      this.#later();
    } else if (typeof mine === 'string') {
      const draft = this.store.get('drafts', mine);
      // A tab that was duplicated starts with the other's name: it goes on in a draft of its own.
      this.id = (await hold(mine, { patient: true })) ? mine : newId();
      if (draft) this.#show(draft, 'keep.label.restored');
    } else {
      const draft = await this.#orphan();
      this.id = draft?.id ?? newId();
      if (draft) this.#show(draft, 'keep.label.restored');
    }
    await hold(this.id);
    tab.set('draft', this.id);
  }

  async #orphan() {
    for (const draft of this.store.list('drafts')) {
      if (!draft.source && (await hold(draft.id))) return draft;
    }
    return undefined;
  }

  #show({ brief, kept = null }, label) {
    this.kept = kept;
    this.#baseline = copy(brief);
    if (!same(brief, this.state.brief)) this.state.set(copy(brief), { label: this.words.t(label) });
    this.#tell();
  }

  #later() {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.flush(), PAUSE_MS);
  }

  get #edited() {
    return !same(this.state.brief, this.#baseline);
  }

  #draft() {
    return {
      ...this.store.get('drafts', this.id),
      id: this.id,
      changed: new Date().toISOString(),
      brief: copy(this.state.brief),
      kept: this.kept,
      source: this.shared?.text,
    };
  }

  /** Writes the work in progress now. */
  async flush() {
    clearTimeout(this.#timer);
    this.#timer = 0;
    if (!this.#edited) return;
    this.#baseline = copy(this.state.brief);
    if (this.shared && !this.shared.edited) {
      this.shared.edited = true;
      tab.set('shared', { text: this.shared.text, id: this.id });
      this.#tell();
    }
    await this.store.put('drafts', this.#draft());
    this.#persistOnce();
  }

  #last() {
    if (this.#edited) writeLast(this.#draft());
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
      if (this.shared) await this.backToOwn();
      return;
    }
    if (this.shared?.text === text) return;
    const brief = await this.#read(text);
    if (!brief) return;
    await this.flush();
    if (!this.shared) this.#own = { id: this.id, brief: copy(this.state.brief), kept: this.kept };
    const before = tab.get('shared');
    const edited = before?.text === text ? this.store.get('drafts', before.id) : undefined;
    this.id = edited?.id ?? newId();
    await hold(this.id);
    this.shared = { text, edited: Boolean(edited), title: typeof brief.title === 'string' ? brief.title : '' };
    this.#show({ brief: edited?.brief ?? brief }, 'share.label.opened');
  }

  /** The brief of a link's text, or nothing; `broken` then says why. */
  async #read(text) {
    this.broken = null;
    let code = 'not_a_brief';
    try {
      const { decodeBrief } = await import('./codec.js');
      const brief = decodeBrief(text);
      if (this.reckoner.plan(brief).plan) return brief;
    } catch (error) {
      code = error?.code ?? 'damaged';
    }
    this.broken = code;
    this.#tell();
    return undefined;
  }

  /** The person has read that the link is broken. */
  forgetBroken() {
    this.broken = null;
    if (!this.shared) history.replaceState(history.state, '', location.pathname + location.search);
    this.#tell();
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
    this.#baseline = copy(this.state.brief);
    await this.store.put('drafts', this.#draft());
    this.#persistOnce();
    this.#tell();
  }

  /** Goes back to what the person had before a link was opened. */
  async backToOwn() {
    if (!this.shared) return;
    await this.flush();
    release(this.id);
    this.#leaveLink();
    const { id, brief, kept } = this.#own;
    this.#own = null;
    this.id = id;
    this.#show({ brief, kept }, 'keep.label.restored');
  }

  // ---- kept briefs and drafts

  /** The kept brief this work came from, where it is still there. */
  get keptEntry() {
    return this.kept ? this.store.get('briefs', this.kept.id) : undefined;
  }

  /** Whether the work differs from what is kept of it. */
  get unkept() {
    return !this.keptEntry || !same(this.keptEntry.brief, this.state.brief);
  }

  /**
   * Keeps the work: in place of what it came from, or as something new.
   * @param {string} name
   * @param {{ asNew?: boolean }} [how]
   * @returns {Promise<{ entry: object, beside: boolean }>}
   */
  async keep(name, { asNew = false } = {}) {
    const brief = copy(this.state.brief);
    const before = asNew ? undefined : this.keptEntry;
    const result = before
      ? await this.store.put('briefs', { ...before, name: name || before.name, brief, revision: this.kept.revision })
      : { entry: await this.store.add('briefs', name, brief), beside: false };
    if (this.shared) await this.makeOwn();
    this.kept = { id: result.entry.id, revision: result.entry.revision };
    this.#baseline = brief;
    await this.store.put('drafts', this.#draft());
    this.#persistOnce();
    this.#tell();
    return result;
  }

  /** Starts from a kept brief or another draft; unfinished work stays among the drafts. */
  async open(kind, id) {
    const entry = this.store.get(kind, id);
    if (!entry) return;
    await this.flush();
    if (this.shared) this.#leaveLink();
    const left = this.store.get('drafts', this.id);
    if (left && !this.unkept) await this.store.remove('drafts', left.id);
    release(this.id);
    this.#own = null;
    this.id = kind === 'drafts' ? id : newId();
    await hold(this.id);
    tab.set('draft', this.id);
    const kept = kind === 'drafts' ? (entry.kept ?? null) : { id: entry.id, revision: entry.revision };
    this.#show({ brief: entry.brief, kept }, 'keep.label.opened');
    await this.store.put('drafts', this.#draft());
  }

  /** The drafts that no open tab works on, without those that hold nothing of their own. */
  async unfinished() {
    const busy = await held();
    return this.store.list('drafts').filter((draft) => {
      if (draft.id === this.id || draft.id === this.#own?.id || busy.has(draft.id)) return false;
      const kept = draft.kept && this.store.get('briefs', draft.kept.id);
      return !kept || !same(kept.brief, draft.brief);
    });
  }
}

const sessions = new WeakMap();

/** The one session of a page's state; begun where it was not yet. */
export function sessionOf({ state, reckoner, words }) {
  if (!sessions.has(state)) {
    sessions.set(
      state,
      Store.open().then(async (store) => {
        const session = new Session({ state, reckoner, words, store });
        await session.begin();
        return session;
      }),
    );
  }
  return sessions.get(state);
}
