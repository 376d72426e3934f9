// The panel of what is kept: briefs, knits, unfinished work, and all of it as a file.

import { visible } from '../common/foreign-text.js';
import { button, download, freshId, make, textField } from '../common/controls.js';
import { isPlain } from './acceptable.js';
import { canonical, originOf } from './entry.js';
import { ImportError, MOST_BYTES, exportText, mergePlan, readExport, unionOfRecords } from './merge.js';
import { PagedList } from './paged-list.js';
import { Panel } from '../common/panel.js';
import { newId } from './small-storage.js';

/** @import { Knit } from '../types/brief.d.ts' */
/** @import { Draft, Entries, Entry, Kind, Unread } from './entry.js' */
/** @import { Kept, Merged } from './merge.js' */
/** @import { Page } from '../common/panel.js' */
/** @import { Values } from '../common/words.js' */

const SEARCH_FROM = 6;
/** Most new names that are said one by one. */
const MOST_SAID = 5;

/** @param {string} text */
const plain = (text) => text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase();

/** Longest name of something unreadable that is shown. */
const MOST_SHOWN = 80;

/** @param {Entry} entry */
const keyOf = (entry) => entry.id;
/** @param {Unread} one */
const keyOfUnread = ({ kind, entry }) => `${kind}/${String(entry.id).slice(0, MOST_SHOWN)}`;

/** @typedef {'briefs' | 'knits'} Named kinds that have names */
/** @typedef {{ kind: Kind, entry: Entry } | { kind: 'unread', entry: Unread }} Removed */
/** @typedef {Entries[Named]} NamedEntry */
/** @typedef {{ briefs: PagedList<NamedEntry>, knits: PagedList<NamedEntry>, drafts: PagedList<Draft>, unread: PagedList<Unread> }} Lists */

export class KeepPanel extends Panel {
  static words = 'keep';

  /** @type {Record<Named, string>} */
  search = { briefs: '', knits: '' };
  /** @type {string | null} */
  renaming = null;
  /** What was deleted and may be brought back, the last one last. @type {Removed[]} */
  removed = [];
  status = make('p');
  knitStatus = make('p');
  undoPlace = make('div');
  trouble = make('div');
  work = make('div');
  lists = this.listsOf();
  dates = new Intl.DateTimeFormat();
  nameField = textField({ label: '' });
  nameTyped = false;
  /** @type {Record<Named, HTMLElement>} */
  searchFields = { briefs: make('div'), knits: make('div') };
  /** Each entry's words in a search. @type {WeakMap<object, string>} */
  #words = new WeakMap();
  /** What was found last, by kind, and of what. @type {{ [Of in Named]?: { of: string, entries: readonly NamedEntry[] } }} */
  #found = {};

  /** @param {HTMLElement} container @param {Page} page */
  constructor(container, page) {
    super(container, page);
    this.session = page.session;
    this.store = page.session.store;
    this.listen(this.session, 'change', () => this.redraw());
    this.listen(this.store, 'trouble', () => this.redraw());
    this.listen(this.state, 'change', () => this.drawWork());
    this.listen(page.form, 'problems', () => this.drawWork());
  }

  /** @param {string} key @param {Values} [values] */
  say(key, values) {
    this.status.textContent = this.t(key, values);
  }

  build() {
    this.status = make('p', { class: 'status', role: 'status' });
    this.undoPlace = make('div', { class: 'undo' });
    this.trouble = make('div', { class: 'trouble' });
    this.work = make('div', { class: 'keep-work' });
    this.lists = this.listsOf();
    this.dates = new Intl.DateTimeFormat(this.words.language, { dateStyle: 'medium', timeStyle: 'short' });
    this.nameField = textField({
      label: this.t('name'),
      value: this.nameTyped ? this.nameField.input.value : this.suggestedName(),
      on: {
        input: () => {
          this.nameTyped = true;
        },
      },
    });
    this.container.replaceChildren(
      make('p', { class: 'hint', text: this.t('intro') }),
      this.trouble,
      this.nameField.field,
      this.work,
      this.status,
      this.undoPlace,
      this.lists.drafts.element,
      this.listSection('briefs'),
      this.knitKeeper(),
      this.listSection('knits'),
      this.lists.unread.element,
      this.fileSection(),
    );
    this.drawUndo();
    this.redraw();
  }

  redraw() {
    if (!this.nameTyped) this.nameField.input.value = this.suggestedName();
    this.drawTrouble();
    this.drawWork();
    this.drawList('briefs');
    this.drawList('knits');
    this.drawUnread();
    void this.drawDrafts();
  }

  suggestedName() {
    return this.session.keptEntry?.name ?? this.state.brief.title ?? '';
  }

  drawTrouble() {
    const { trouble, unread } = this.store;
    const lines = [];
    if (trouble) lines.push(this.t(`trouble.${trouble}`), this.t('trouble.export'));
    if (unread.length) lines.push(this.words.count('keep.unread', unread.length));
    const texts = JSON.stringify(lines);
    if (this.trouble.dataset.texts === texts) return;
    this.trouble.dataset.texts = texts;
    this.trouble.replaceChildren(...lines.map((text) => make('p', { class: 'warning', text })));
  }

  // ---- the work on the page

  drawWork() {
    const { keptEntry, unkept } = this.session;
    const wanted = JSON.stringify([keptEntry?.name, unkept, this.words.language]);
    if (this.work.dataset.drawn === wanted) return;
    this.work.dataset.drawn = wanted;
    /** @param {boolean} asNew */
    const keep = (asNew) => () => this.keep(asNew);
    const state = keptEntry ? this.t(unkept ? 'changed' : 'unchanged', { name: keptEntry.name }) : this.t('not_kept');
    const buttons = keptEntry
      ? [button(this.t('keep_changes'), keep(false)), button(this.t('keep_as_new'), keep(true))]
      : [button(this.t('keep'), keep(true))];
    // Redrawing the button that was just pressed must not throw the keyboard back to the page's top.
    const hadFocus = this.work.contains(document.activeElement);
    this.work.replaceChildren(make('p', { class: 'hint', text: state }), make('p', { class: 'buttons' }, ...buttons));
    if (hadFocus) buttons[0].focus();
  }

  /** @param {boolean} asNew */
  async keep(asNew) {
    const name = this.nameField.input.value.trim();
    if (name === '') {
      this.nameField.setError(this.t('name_needed'));
      this.nameField.input.focus();
      return;
    }
    this.nameField.setError('');
    const { entry, beside } = await this.session.keep(name, { asNew });
    this.nameTyped = false;
    const said = [
      this.t(beside ? 'kept_beside' : this.store.isStored('briefs', entry.id) ? 'kept' : 'kept_in_memory', { name: entry.name }),
    ];
    if (this.page.form.isBehind) said.push(this.t('kept_as_planned'));
    this.status.textContent = said.join(' ');
    this.redraw();
  }

  // ---- lists

  /** @param {Named} kind */
  listSection(kind) {
    const field = textField({
      label: this.t(`search_${kind}`),
      type: 'search',
      value: this.search[kind],
      on: {
        input: () => {
          this.search[kind] = field.input.value;
          this.lists[kind].toFirst();
          this.drawList(kind);
        },
      },
    });
    field.field.hidden = this.store.list(kind).length < SEARCH_FROM;
    this.searchFields[kind] = field.field;
    return make('div', { class: 'kept-list' }, make('h3', { text: this.t(`heading_${kind}`) }), field.field, this.lists[kind].element);
  }

  /** @returns {Lists} */
  listsOf() {
    return {
      briefs: this.listOf((/** @type {NamedEntry} */ entry) => this.row('briefs', entry), keyOf),
      knits: this.listOf((/** @type {NamedEntry} */ entry) => this.row('knits', entry), keyOf),
      drafts: this.listOf((/** @type {Draft} */ draft) => this.draftRow(draft), keyOf),
      unread: this.listOf((one) => this.unreadRow(one), keyOfUnread),
    };
  }

  /** @template {object} Item @param {(item: Item) => HTMLElement} row @param {(item: Item) => string} key @returns {PagedList<Item>} */
  listOf(row, key) {
    return new PagedList({ row, key, t: (name, values) => this.t(name, values) });
  }

  /** @param {NamedEntry} entry */
  wordsOf(entry) {
    const before = this.#words.get(entry);
    if (before !== undefined) return before;
    const { name, brief, knit } = entry;
    const words = plain(`${name} ${brief?.title ?? ''} ${brief?.garment_knit?.name ?? ''} ${knit?.name ?? ''}`);
    this.#words.set(entry, words);
    return words;
  }

  /** @param {Named} kind @returns {readonly NamedEntry[]} */
  found(kind) {
    const of = JSON.stringify([this.store.version(kind), this.search[kind]]);
    const before = this.#found[kind];
    if (before?.of === of) return before.entries;
    const wanted = plain(this.search[kind]).split(/\s+/).filter(Boolean);
    /** @type {readonly NamedEntry[]} */
    const all = this.store.list(kind);
    const entries = wanted.length ? all.filter((entry) => wanted.every((word) => this.wordsOf(entry).includes(word))) : all;
    this.#found[kind] = { of, entries };
    return entries;
  }

  /** @param {Named} kind */
  drawList(kind) {
    // A name that is being typed stays, whatever comes meanwhile.
    if (this.renaming && this.lists[kind].element.querySelector('form')?.dataset.of === this.renaming) return;
    const all = this.store.list(kind);
    this.searchFields[kind].hidden = all.length < SEARCH_FROM && this.search[kind] === '';
    const none = this.t(all.length === 0 ? `none_${kind}` : 'none_found');
    this.lists[kind].show(this.found(kind), { state: `${this.renaming} ${this.session.kept?.id}`, none });
  }

  /** @param {Named} kind @param {NamedEntry} entry */
  row(kind, entry) {
    const actions = this.renaming === `${kind}/${entry.id}` ? [this.renameForm(kind, entry)] : this.rowActions(kind, entry);
    const said = [this.when(entry.changed), entry.knit ? this.records(entry.knit) : null].filter(Boolean).join(', ');
    const current = kind === 'briefs' && this.session.kept?.id === entry.id;
    return make(
      'li',
      { 'data-entry': entry.id, 'aria-current': current ? 'true' : undefined },
      make('span', { class: 'entry-name', text: visible(entry.name) }),
      make('span', { class: 'entry-when', text: said }),
      make('span', { class: 'actions' }, ...actions),
    );
  }

  /** @param {string | undefined} text */
  when(text) {
    const time = new Date(text ?? NaN);
    if (Number.isNaN(time.getTime())) return '';
    return this.dates.format(time);
  }

  /** @param {Knit} knit */
  records({ learned }) {
    // Kept knits may say that there are none in another way.
    const count = learned?.length ?? 0;
    return count ? this.words.count('keep.records', count) : null;
  }

  /** @param {string} key @param {{ name: string }} entry @param {() => unknown} run */
  action(key, entry, run) {
    return button(this.t(key), run, { 'data-action': key, 'aria-label': this.t(`${key}_named`, { name: entry.name }) });
  }

  /** @param {Named} kind @param {NamedEntry} entry */
  rowActions(kind, entry) {
    const { name, knit } = entry;
    const use = knit
      ? [
          this.action('use_garment', entry, () => this.useKnit({ name, knit }, 'garment_knit')),
          this.action('use_strip', entry, () => this.useKnit({ name, knit }, 'strip_knit')),
        ]
      : [this.action('open', entry, () => this.open('briefs', entry, name))];
    return [
      ...use,
      this.action('rename', entry, () => this.startRename(kind, entry)),
      this.action('duplicate', entry, () => this.duplicate(entry)),
      this.action('delete', entry, () => this.remove(kind, entry)),
    ];
  }

  /** @param {'briefs' | 'drafts'} kind @param {Entry} entry @param {string} name */
  async open(kind, { id }, name) {
    if (!this.store.get(kind, id)) {
      this.sayGone(name);
      return;
    }
    if (!(await this.session.open(kind, id))) {
      this.say('cannot_open');
      return;
    }
    this.nameTyped = false;
    this.redraw();
    this.say(kind === 'drafts' ? 'continued' : 'opened', { name });
  }

  /** @param {Named} kind @param {NamedEntry} entry */
  startRename(kind, entry) {
    this.renaming = `${kind}/${entry.id}`;
    this.drawList(kind);
    /** @type {HTMLInputElement | null} */ (this.lists[kind].element.querySelector('form input'))?.select();
  }

  /** @param {Named} kind @param {NamedEntry} entry */
  renameForm(kind, entry) {
    const id = freshId('kept-rename');
    const input = make('input', { id, type: 'text', autocomplete: 'off' });
    input.value = entry.name;
    /** @param {() => string} name @returns {(event: Event) => Promise<void>} */
    const done = (name) => async (event) => {
      event.preventDefault();
      this.renaming = null;
      const wanted = name().trim();
      if (wanted && wanted !== entry.name) await this.rename(kind, entry, wanted);
      this.redraw();
      if (this.store.get(kind, entry.id)) this.lists[kind].focus(entry.id, 'rename');
      else this.undoPlace.querySelector('button')?.focus();
    };
    /** @param {KeyboardEvent} event */
    const keydown = (event) => event.key === 'Escape' && void done(() => entry.name)(event);
    return make(
      'form',
      {
        class: 'rename',
        'data-of': this.renaming,
        on: { submit: done(() => input.value), keydown },
      },
      make('label', { for: id, text: this.t('new_name') }),
      input,
      make('button', { type: 'submit', text: this.t('rename_done') }),
    );
  }

  /** @param {Named} kind @param {NamedEntry} entry @param {string} wanted */
  async rename(kind, entry, wanted) {
    const kept = await this.store.rename(kind, entry.id, wanted);
    if (!kept) {
      // The name that was typed is not lost with what it was for.
      this.removed.push({ kind, entry: { ...entry, name: wanted } });
      this.say('rename_gone', { from: entry.name, to: wanted });
      this.drawUndo();
      return;
    }
    if (this.session.kept?.id === entry.id) this.session.kept = originOf(kept);
    this.say('renamed', { from: entry.name, to: kept.name });
  }

  /** Another tab was quicker: the row goes. @param {string} name */
  sayGone(name) {
    this.say('gone', { name });
    this.renaming = null;
    this.redraw();
  }

  /** @param {NamedEntry} entry */
  async duplicate(entry) {
    const { knit, brief, sizes } = structuredClone(entry);
    const made = knit
      ? await this.store.add('knits', entry.name, { knit })
      : brief && (await this.store.add('briefs', entry.name, { brief, sizes }));
    if (made) this.say('duplicated', { name: made.name });
  }

  /** @param {Kind} kind @param {Entry} entry */
  async remove(kind, entry) {
    const removed = await this.store.remove(kind, entry.id);
    if (removed) this.offerUndo({ kind, entry: removed });
    else this.sayGone(this.nameOf(kind, entry));
  }

  /** @param {Removed} removed */
  offerUndo(removed) {
    this.removed.push(removed);
    this.say('deleted', { name: this.nameOfRemoved(removed) });
    this.drawUndo();
    this.undoPlace.querySelector('button')?.focus();
  }

  drawUndo() {
    const last = this.removed.at(-1);
    const name = last && this.nameOfRemoved(last);
    this.undoPlace.replaceChildren(
      ...(last ? [button(this.t('undo'), () => this.undoRemove(), { 'aria-label': this.t('undo_named', { name }) })] : []),
    );
  }

  /** What an entry is called; a draft by its brief, for it has no name. @param {Kind} kind @param {Entry} entry */
  nameOf(kind, { name, brief }) {
    return kind === 'drafts' ? brief?.title || this.t('untitled') : (name ?? '');
  }

  /** @param {Removed} removed */
  nameOfRemoved(removed) {
    return removed.kind === 'unread' ? this.nameOfUnread(removed.entry) : this.nameOf(removed.kind, removed.entry);
  }

  async undoRemove() {
    const last = this.removed.pop();
    if (!last) return;
    this.drawUndo();
    if (last.kind === 'unread') {
      await this.store.setAside(last.entry.kind, last.entry.entry);
      this.say('restored', { name: this.nameOfRemoved(last) });
      this.lists.unread.focus(keyOfUnread(last.entry), 'save');
      return;
    }
    const { kind } = last;
    const kept = await this.store.restore(kind, /** @type {Entries[typeof kind]} */ (last.entry));
    if (this.session.kept?.id === kept.id) this.session.kept = originOf(kept);
    this.redraw();
    this.say('restored', { name: this.nameOf(kind, kept) });
    this.lists[kind].focus(kept.id, 'open');
  }

  // ---- knits

  // A knit's name is told in one place, its step: here it is kept under it.
  knitKeeper() {
    this.knitStatus = make('p', { class: 'status', role: 'status' });
    /** @param {'garment_knit' | 'strip_knit'} part */
    const keep = (part) => async () => {
      const { brief } = this.state;
      const of = brief[part] ? part : 'garment_knit';
      const knit = brief[of] ?? brief.garment_knit;
      const name = knit.name?.trim();
      if (name) return await this.keepKnit(knit, name);
      this.sayOfKnit('knit_name_needed');
      this.page.form.focus(`${of.replace('_knit', '')}.name`);
    };
    return make(
      'div',
      { class: 'knit-keeper' },
      make('h3', { text: this.t('heading_keep_knit') }),
      make(
        'p',
        { class: 'buttons' },
        button(this.t('keep_garment_knit'), keep('garment_knit')),
        button(this.t('keep_strip_knit'), keep('strip_knit')),
      ),
      this.knitStatus,
    );
  }

  /** Said beside the knits' own buttons. @param {string} key @param {Values} [values] */
  sayOfKnit(key, values) {
    this.knitStatus.textContent = this.t(key, values);
  }

  // A knit kept twice under one name with the same readings is one knit: its records come together.
  /** @param {Knit} given @param {string} name */
  async keepKnit(given, name) {
    const knit = { ...structuredClone(given), name };
    /** @param {Knit} one */
    const bare = ({ learned, ...rest }) => rest;
    const before = this.store.list('knits').find((entry) => entry.name === name && canonical(bare(entry.knit)) === canonical(bare(knit)));
    const learned = unionOfRecords(before?.knit.learned, knit.learned);
    const joined = learned.length ? { ...knit, learned } : knit;
    // Together they may have more records than a knit may: then it is another knit.
    if (!before || !this.session.opens({ ...this.state.brief, garment_knit: joined })) {
      const made = await this.store.add('knits', name, { knit });
      this.sayOfKnit('kept', { name: made.name });
      return;
    }
    await this.store.put('knits', { ...before, knit: joined });
    this.sayOfKnit('kept', { name });
  }

  /** @param {{ name: string, knit: Knit }} entry @param {'garment_knit' | 'strip_knit'} part */
  useKnit(entry, part) {
    if (!this.session.opens({ ...this.state.brief, [part]: entry.knit })) {
      this.say('cannot_open');
      return;
    }
    this.page.form.useKnit(part, structuredClone(entry.knit), this.t(`label.${part}`, { name: entry.name }));
    this.say(part === 'strip_knit' ? 'used_strip' : 'used_garment', { name: entry.name });
  }

  // ---- unfinished work

  async drawDrafts() {
    const drafts = await this.session.unfinished();
    if (this.isGone) return;
    this.lists.drafts.element.hidden = drafts.length === 0;
    this.lists.drafts.show(drafts, { head: () => [make('h3', { text: this.t('heading_drafts') })] });
  }

  /** @param {Draft} draft */
  draftRow(draft) {
    const named = { name: this.nameOf('drafts', draft) };
    return make(
      'li',
      { 'data-entry': draft.id },
      make('span', { class: 'entry-name', text: visible(named.name) }),
      make('span', { class: 'entry-when', text: this.when(draft.changed) }),
      make(
        'span',
        { class: 'buttons' },
        this.action('continue', named, () => this.open('drafts', draft, named.name)),
        this.action('delete', named, () => this.remove('drafts', draft)),
      ),
    );
  }

  // ---- what cannot be read

  drawUnread() {
    const { unread } = this.store;
    this.lists.unread.element.hidden = unread.length === 0;
    this.lists.unread.show(unread, { head: () => [make('h3', { text: this.t('heading_unread') })] });
  }

  /** Whatever of it is a text. @param {Unread} one */
  nameOfUnread({ entry }) {
    const { brief, knit } = entry;
    const names = [entry.name, isPlain(brief) && brief.title, isPlain(knit) && knit.name];
    const name = names.find((one) => typeof one === 'string' && one.trim() !== '');
    return typeof name === 'string' ? name.slice(0, MOST_SHOWN) : this.t('untitled');
  }

  /** @param {Unread} one */
  unreadRow(one) {
    const named = { name: this.nameOfUnread(one) };
    return make(
      'li',
      { 'data-entry': keyOfUnread(one) },
      make('span', { class: 'entry-name', text: visible(named.name) }),
      make('span', { class: 'entry-when', text: this.t(`unread_${one.kind}`) }),
      make(
        'span',
        { class: 'buttons' },
        this.action('save', named, () => this.saveOne(one)),
        this.action('delete', named, () => this.removeUnread(one)),
      ),
    );
  }

  /** @param {Unread} one */
  saveOne(one) {
    this.save('lieflat-unread', { briefs: [], knits: [], drafts: [], unread: [one] });
  }

  /** @param {Unread} one */
  async removeUnread(one) {
    await this.store.removeUnread(one);
    this.offerUndo({ kind: 'unread', entry: one });
  }

  // ---- the file

  fileSection() {
    const id = freshId('kept-file');
    const input = make('input', { id, type: 'file', accept: '.json,application/json' });
    input.addEventListener('change', () => this.takeIn(input));
    return make(
      'div',
      { class: 'kept-file' },
      make('h3', { text: this.t('heading_file') }),
      make('p', { class: 'hint', text: this.t('file_hint') }),
      make(
        'p',
        { class: 'buttons' },
        button(this.t('export'), () => this.giveOut()),
      ),
      make('div', { class: 'field' }, make('label', { for: id, text: this.t('import') }), input),
    );
  }

  async giveOut() {
    await this.session.flush();
    this.save('lieflat', this.kept());
  }

  /** @returns {Kept} */
  kept() {
    const { store } = this;
    return { briefs: store.list('briefs'), knits: store.list('knits'), drafts: store.list('drafts'), unread: store.unread };
  }

  /** @param {string} name @param {Kept} kept */
  save(name, kept) {
    const now = new Date().toISOString();
    download(`${name}-${now.slice(0, 10)}.json`, 'application/json', exportText(kept, now));
    this.say('exported');
  }

  /** @param {HTMLInputElement} input */
  async takeIn(input) {
    const file = input.files?.[0];
    if (!file) return;
    try {
      if (file.size > MOST_BYTES) throw new ImportError('too_large');
      const plan = mergePlan(this.kept(), readExport(await file.text()), newId);
      await this.store.addAll(plan.add);
      this.status.textContent = (await this.told(plan)).join(' ');
    } catch (error) {
      this.say(`import_error.${error instanceof ImportError ? error.code : 'not_json'}`);
    }
    input.value = '';
  }

  /** What taking in a file did, in sentences. @param {Merged} merged */
  async told({ add, skipped, renamed, unread }) {
    /** @type {Entry[]} */
    const added = Object.values(add).flat();
    const lines = [this.t('imported', { added: added.length, skipped })];
    lines.push(...renamed.slice(0, MOST_SAID).map((one) => this.t('imported_renamed', one)));
    if (renamed.length > MOST_SAID) lines.push(this.count('imported_renamed_more', renamed.length - MOST_SAID));
    if (unread) lines.push(this.count('imported_unread', unread));
    const { unknownFields, unknownInKnit } = await import('./known-fields.js');
    const strange = added.filter(({ brief, knit }) => (brief ? unknownFields(brief) : unknownInKnit(knit)).length > 0);
    if (strange.length) lines.push(this.count('imported_unknown', strange.length));
    return lines;
  }
}
