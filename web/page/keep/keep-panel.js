// The panel of what is kept: briefs, knits, unfinished work, and all of it as a file.

import { visible } from '../common/foreign-text.js';
import { button, download, freshId, make, textField } from '../common/controls.js';
import { canonical } from './entry.js';
import { ImportError, MOST_BYTES, exportText, mergePlan, readExport, unionOfRecords } from './merge.js';
import { PagedList } from './paged-list.js';
import { Panel } from '../common/panel.js';
import { newId } from './small-storage.js';

const SEARCH_FROM = 6;
/** Most new names that are said one by one. */
const MOST_SAID = 5;

const plain = (text) => text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase();

/** Longest name of something unreadable that is shown. */
const MOST_SHOWN = 80;

export class KeepPanel extends Panel {
  static words = 'keep';

  search = { briefs: '', knits: '' };
  renaming = null;
  /** What was deleted and may be brought back, the last one last. */
  removed = [];
  /** Each entry's words in a search. @type {WeakMap<object, string>} */
  #words = new WeakMap();
  /** What was found last, by kind, and of what. */
  #found = {};

  constructor(container, page) {
    super(container, page);
    this.session = page.session;
    this.store = page.session.store;
    this.listen(this.session, 'change', () => this.redraw());
    this.listen(this.store, 'trouble', () => this.redraw());
    this.listen(this.state, 'change', () => this.drawWork());
    this.listen(page.form, 'problems', () => this.drawWork());
  }

  say(key, values) {
    this.status.textContent = this.t(key, values);
  }

  build() {
    this.status = make('p', { class: 'status', role: 'status' });
    this.undoPlace = make('div', { class: 'undo' });
    this.trouble = make('div', { class: 'trouble' });
    this.work = make('div', { class: 'keep-work' });
    this.lists = Object.fromEntries(['briefs', 'knits', 'drafts', 'unread'].map((kind) => [kind, this.listOf(kind)]));
    this.dates = new Intl.DateTimeFormat(this.words.language, { dateStyle: 'medium', timeStyle: 'short' });
    this.nameField = textField({
      label: this.t('name'),
      value: this.nameTyped ? this.nameField.input.value : this.suggestedName(),
      on: { input: () => (this.nameTyped = true) },
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
    if (!this.work) return;
    const { keptEntry, unkept } = this.session;
    const wanted = JSON.stringify([keptEntry?.name, unkept, this.words.language]);
    if (this.work.dataset.drawn === wanted) return;
    this.work.dataset.drawn = wanted;
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

  listSection(kind) {
    const field = textField({
      label: this.t(`search_${kind}`),
      type: 'search',
      value: this.search[kind],
      on: {
        input: (event) => {
          this.search[kind] = event.target.value;
          this.lists[kind].toFirst();
          this.drawList(kind);
        },
      },
    });
    field.field.hidden = this.store.list(kind).length < SEARCH_FROM;
    this[`searchField_${kind}`] = field.field;
    return make('div', { class: 'kept-list' }, make('h3', { text: this.t(`heading_${kind}`) }), field.field, this.lists[kind].element);
  }

  listOf(kind) {
    const rows = {
      briefs: (entry) => this.row('briefs', entry),
      knits: (entry) => this.row('knits', entry),
      drafts: (draft) => this.draftRow(draft),
      unread: (one) => this.unreadRow(one),
    };
    return new PagedList({ row: rows[kind], key: (item) => this.keyOf(item), t: (key, values) => this.t(key, values) });
  }

  keyOf(item) {
    return item.id ?? `${item.kind}/${String(item.entry.id).slice(0, MOST_SHOWN)}`;
  }

  wordsOf(entry) {
    if (!this.#words.has(entry)) {
      this.#words.set(
        entry,
        plain(`${entry.name} ${entry.brief?.title ?? ''} ${entry.brief?.garment_knit?.name ?? ''} ${entry.knit?.name ?? ''}`),
      );
    }
    return this.#words.get(entry);
  }

  found(kind) {
    const of = JSON.stringify([this.store.version(kind), this.search[kind]]);
    if (this.#found[kind]?.of !== of) {
      const wanted = plain(this.search[kind]).split(/\s+/).filter(Boolean);
      const all = this.store.list(kind);
      this.#found[kind] = {
        of,
        entries: wanted.length ? all.filter((entry) => wanted.every((word) => this.wordsOf(entry).includes(word))) : all,
      };
    }
    return this.#found[kind].entries;
  }

  drawList(kind) {
    // A name that is being typed stays, whatever comes meanwhile.
    if (this.renaming && this.lists[kind].element.querySelector('form')?.dataset.of === this.renaming) return;
    const all = this.store.list(kind);
    this[`searchField_${kind}`].hidden = all.length < SEARCH_FROM && this.search[kind] === '';
    const none = this.t(all.length === 0 ? `none_${kind}` : 'none_found');
    this.lists[kind].show(this.found(kind), { state: `${this.renaming} ${this.session.kept?.id}`, none });
  }

  row(kind, entry) {
    const actions = this.renaming === `${kind}/${entry.id}` ? [this.renameForm(kind, entry)] : this.rowActions(kind, entry);
    const said = [this.when(entry.changed), kind === 'knits' ? this.records(entry) : null].filter(Boolean).join(', ');
    const current = kind === 'briefs' && this.session.kept?.id === entry.id;
    return make(
      'li',
      { 'data-entry': entry.id, 'aria-current': current ? 'true' : undefined },
      make('span', { class: 'entry-name', text: visible(entry.name) }),
      make('span', { class: 'entry-when', text: said }),
      make('span', { class: 'actions' }, ...actions),
    );
  }

  when(text) {
    const time = new Date(text);
    if (Number.isNaN(time.getTime())) return '';
    return this.dates.format(time);
  }

  records({ knit }) {
    const count = Array.isArray(knit.learned) ? knit.learned.length : 0;
    return count ? this.words.count('keep.records', count) : null;
  }

  action(key, entry, run) {
    return button(this.t(key), run, { 'data-action': key, 'aria-label': this.t(`${key}_named`, { name: entry.name }) });
  }

  rowActions(kind, entry) {
    const use =
      kind === 'briefs'
        ? [this.action('open', entry, () => this.open('briefs', entry, entry.name))]
        : [
            this.action('use_garment', entry, () => this.useKnit(entry, 'garment_knit')),
            this.action('use_strip', entry, () => this.useKnit(entry, 'strip_knit')),
          ];
    return [
      ...use,
      this.action('rename', entry, () => this.startRename(kind, entry)),
      this.action('duplicate', entry, () => this.duplicate(kind, entry)),
      this.action('delete', entry, () => this.remove(kind, entry)),
    ];
  }

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

  startRename(kind, entry) {
    this.renaming = `${kind}/${entry.id}`;
    this.drawList(kind);
    this.lists[kind].element.querySelector('form input')?.select();
  }

  renameForm(kind, entry) {
    const id = freshId('kept-rename');
    const input = make('input', { id, type: 'text', autocomplete: 'off' });
    input.value = entry.name;
    const done = (name) => async (event) => {
      event.preventDefault();
      this.renaming = null;
      const wanted = name().trim();
      if (wanted && wanted !== entry.name) await this.rename(kind, entry, wanted);
      this.redraw();
      if (this.store.get(kind, entry.id)) this.lists[kind].focus(entry.id, 'rename');
      else this.undoPlace.querySelector('button')?.focus();
    };
    return make(
      'form',
      {
        class: 'rename',
        'data-of': this.renaming,
        on: { submit: done(() => input.value), keydown: (event) => event.key === 'Escape' && void done(() => entry.name)(event) },
      },
      make('label', { for: id, text: this.t('new_name') }),
      input,
      make('button', { type: 'submit', text: this.t('rename_done') }),
    );
  }

  async rename(kind, entry, wanted) {
    const kept = await this.store.rename(kind, entry.id, wanted);
    if (!kept) {
      // The name that was typed is not lost with what it was for.
      this.removed.push({ kind, entry: { ...entry, name: wanted } });
      this.say('rename_gone', { from: entry.name, to: wanted });
      this.drawUndo();
      return;
    }
    if (this.session.kept?.id === entry.id) this.session.kept = { id: kept.id, revision: kept.revision };
    this.say('renamed', { from: entry.name, to: kept.name });
  }

  /** Another tab was quicker: the row goes. */
  sayGone(name) {
    this.say('gone', { name });
    this.renaming = null;
    this.redraw();
  }

  async duplicate(kind, entry) {
    const { knit, brief, sizes } = structuredClone(entry);
    const made = await this.store.add(kind, entry.name, kind === 'knits' ? { knit } : { brief, sizes });
    this.say('duplicated', { name: made.name });
  }

  async remove(kind, entry) {
    const removed = await this.store.remove(kind, entry.id);
    if (removed) this.offerUndo(kind, removed);
    else this.sayGone(this.nameOf(kind, entry));
  }

  offerUndo(kind, entry) {
    this.removed.push({ kind, entry });
    this.say('deleted', { name: this.nameOf(kind, entry) });
    this.drawUndo();
    this.undoPlace.querySelector('button').focus();
  }

  drawUndo() {
    const last = this.removed.at(-1);
    const name = last && this.nameOf(last.kind, last.entry);
    this.undoPlace.replaceChildren(
      ...(last ? [button(this.t('undo'), () => this.undoRemove(), { 'aria-label': this.t('undo_named', { name }) })] : []),
    );
  }

  nameOf(kind, entry) {
    if (kind === 'unread') return this.nameOfUnread(entry);
    return kind === 'drafts' ? entry.brief.title || this.t('untitled') : entry.name;
  }

  async undoRemove() {
    const { kind, entry } = this.removed.pop();
    this.drawUndo();
    if (kind === 'unread') {
      await this.store.setAside(entry.kind, entry.entry);
      this.say('restored', { name: this.nameOf(kind, entry) });
      this.lists.unread.focus(this.keyOf(entry), 'save');
      return;
    }
    const kept = await this.store.restore(kind, entry);
    if (this.session.kept?.id === kept.id) this.session.kept = { id: kept.id, revision: kept.revision };
    this.redraw();
    this.say('restored', { name: this.nameOf(kind, kept) });
    this.lists[kind].focus(kept.id, 'open');
  }

  // ---- knits

  knitKeeper() {
    const { brief } = this.state;
    const field = textField({ label: this.t('knit_name'), value: brief.garment_knit.name ?? '' });
    const keep = (part) => async () => {
      const { brief: now } = this.state;
      const name = field.input.value.trim();
      if (name === '') {
        field.setError(this.t('name_needed'));
        field.input.focus();
        return;
      }
      field.setError('');
      await this.keepKnit(now[part] ?? now.garment_knit, name);
    };
    return make(
      'div',
      { class: 'knit-keeper' },
      make('h3', { text: this.t('heading_keep_knit') }),
      field.field,
      make(
        'p',
        { class: 'buttons' },
        button(this.t('keep_garment_knit'), keep('garment_knit')),
        button(this.t('keep_strip_knit'), keep('strip_knit')),
      ),
    );
  }

  // A knit kept twice under one name with the same readings is one knit: its records come together.
  async keepKnit(given, name) {
    const knit = { ...structuredClone(given), name };
    const bare = ({ learned, ...rest }) => rest;
    const before = this.store.list('knits').find((entry) => entry.name === name && canonical(bare(entry.knit)) === canonical(bare(knit)));
    const learned = unionOfRecords(before?.knit.learned, knit.learned);
    const joined = learned.length ? { ...knit, learned } : knit;
    // Together they may have more records than a knit may: then it is another knit.
    if (!before || !this.session.opens({ ...this.state.brief, garment_knit: joined })) {
      const made = await this.store.add('knits', name, { knit });
      this.say('kept', { name: made.name });
      return;
    }
    await this.store.put('knits', { ...before, knit: joined });
    this.say('kept', { name });
  }

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

  /** Whatever of it is a text. */
  nameOfUnread({ entry }) {
    const name = [entry?.name, entry?.brief?.title, entry?.knit?.name].find((one) => typeof one === 'string' && one.trim());
    return name ? name.slice(0, MOST_SHOWN) : this.t('untitled');
  }

  unreadRow(one) {
    const named = { name: this.nameOfUnread(one) };
    return make(
      'li',
      { 'data-entry': this.keyOf(one) },
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

  saveOne(one) {
    this.save('lieflat-unread', { briefs: [], knits: [], drafts: [], unread: [one] });
  }

  async removeUnread(one) {
    await this.store.removeUnread(one);
    this.offerUndo('unread', one);
  }

  // ---- the file

  fileSection() {
    const id = freshId('kept-file');
    const input = make('input', { id, type: 'file', accept: '.json,application/json', on: { change: () => this.takeIn(input) } });
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

  kept() {
    const { store } = this;
    return { briefs: store.list('briefs'), knits: store.list('knits'), drafts: store.list('drafts'), unread: store.unread };
  }

  save(name, kept) {
    const now = new Date().toISOString();
    download(`${name}-${now.slice(0, 10)}.json`, 'application/json', exportText(kept, now));
    this.say('exported');
  }

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

  /** What taking in a file did, in sentences. */
  async told({ add, skipped, renamed, unread }) {
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
