// The panel of what is kept: briefs, knits, unfinished work, and all of it as a file.

import { shown } from '../inert.js';
import { button, download, freshId, make, textField } from './dom.js';
import { ImportError, MOST_BYTES, canonical, unionOfRecords } from './merge.js';
import { Panel } from './panel.js';

const SEARCH_FROM = 6;
/** Most new names that are said one by one. */
const MOST_SAID = 5;

const plain = (text) => text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase();

/** What tells one state of an entry from another in a list. */
const asShown = ({ id, name, changed, revision }) => [id, name, changed, revision];

export class KeepPanel extends Panel {
  static words = 'keep';

  search = { briefs: '', knits: '' };
  renaming = null;
  /** What was deleted and may be brought back, the last one last. */
  removed = [];
  /** What each list shows. @type {WeakMap<Element, string>} */
  #shown = new WeakMap();

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
    this.lists = { briefs: make('div'), knits: make('div'), drafts: make('div') };
    this.nameField = textField({ label: this.t('name'), value: this.nameTyped ? this.nameField.input.value : this.suggestedName(), on: { input: () => (this.nameTyped = true) } });
    this.container.replaceChildren(
      make('p', { class: 'hint', text: this.t('intro') }),
      this.trouble,
      this.nameField.field,
      this.work,
      this.status,
      this.undoPlace,
      this.lists.drafts,
      this.listSection('briefs'),
      this.knitKeeper(),
      this.listSection('knits'),
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
    void this.drawDrafts();
  }

  suggestedName() {
    return this.session.keptEntry?.name ?? this.state.brief.title ?? '';
  }

  drawTrouble() {
    const { trouble, unreadCount } = this.store;
    const lines = [];
    if (trouble) lines.push(this.t(`trouble.${trouble}`), this.t('trouble.export'));
    if (unreadCount) lines.push(this.words.count('keep.unread', unreadCount));
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
    const said = [this.t(beside ? 'kept_beside' : this.store.isStored('briefs', entry.id) ? 'kept' : 'kept_in_memory', { name: entry.name })];
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
          this.drawList(kind);
        },
      },
    });
    field.field.hidden = this.store.list(kind).length < SEARCH_FROM;
    this[`searchField_${kind}`] = field.field;
    return make('div', { class: 'kept-list' }, make('h3', { text: this.t(`heading_${kind}`) }), field.field, this.lists[kind]);
  }

  found(kind) {
    const wanted = plain(this.search[kind]).split(/\s+/).filter(Boolean);
    return this.store.list(kind).filter((entry) => {
      const text = plain(`${entry.name} ${entry.brief?.title ?? ''} ${entry.brief?.garment_knit?.name ?? ''} ${entry.knit?.name ?? ''}`);
      return wanted.every((word) => text.includes(word));
    });
  }

  drawList(kind) {
    // A name that is being typed stays, whatever comes meanwhile.
    if (this.renaming && this.lists[kind].querySelector('form')?.dataset.of === this.renaming) return;
    const all = this.store.list(kind);
    this[`searchField_${kind}`].hidden = all.length < SEARCH_FROM && this.search[kind] === '';
    const found = this.found(kind);
    this.fillList(this.lists[kind], [all.length > 0, this.renaming, this.session.kept?.id, found.map(asShown)], () => {
      if (all.length === 0) return [make('p', { class: 'hint', text: this.t(`none_${kind}`) })];
      if (found.length === 0) return [make('p', { class: 'hint', text: this.t('none_found') })];
      return [make('ul', { class: 'entries' }, ...found.map((entry) => this.row(kind, entry)))];
    });
  }

  /** Fills a list where it would show something else: each draft written tells of a change, and a button must not go from under the finger. */
  fillList(list, shows, content) {
    const wanted = JSON.stringify(shows);
    if (this.#shown.get(list) === wanted) return;
    this.#shown.set(list, wanted);
    const focus = this.focusedAction(list);
    list.replaceChildren(...content());
    this.refocus(list, focus);
  }

  focusedAction(list) {
    const at = document.activeElement;
    return list.contains(at) ? { entry: at.closest('li')?.dataset.entry, action: at.dataset.action } : null;
  }

  refocus(list, focus) {
    if (!focus) return;
    const rows = [...list.querySelectorAll('li')];
    const row = rows.find((one) => one.dataset.entry === focus.entry);
    (row?.querySelector(`[data-action="${focus.action}"]`) ?? row?.querySelector('button') ?? rows[0]?.querySelector('button'))?.focus();
  }

  row(kind, entry) {
    const actions = this.renaming === `${kind}/${entry.id}` ? [this.renameForm(kind, entry)] : this.rowActions(kind, entry);
    const said = [this.when(entry.changed), kind === 'knits' ? this.records(entry) : null].filter(Boolean).join(', ');
    const current = kind === 'briefs' && this.session.kept?.id === entry.id;
    return make(
      'li',
      { 'data-entry': entry.id, 'aria-current': current ? 'true' : undefined },
      make('span', { class: 'entry-name', text: shown(entry.name) }),
      make('span', { class: 'entry-when', text: said }),
      make('span', { class: 'actions' }, ...actions),
    );
  }

  when(text) {
    const time = new Date(text);
    if (Number.isNaN(time.getTime())) return '';
    return new Intl.DateTimeFormat(this.words.language, { dateStyle: 'medium', timeStyle: 'short' }).format(time);
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
        ? [this.action('open', entry, () => this.open('briefs', entry.id))]
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

  async open(kind, id) {
    const name = this.store.get(kind, id)?.name;
    if (!(await this.session.open(kind, id))) {
      this.say('cannot_open');
      return;
    }
    this.nameTyped = false;
    this.redraw();
    this.say(name ? 'opened' : 'continued', { name });
  }

  startRename(kind, entry) {
    this.renaming = `${kind}/${entry.id}`;
    this.drawList(kind);
    this.lists[kind].querySelector('form input')?.select();
  }

  renameForm(kind, entry) {
    const id = freshId('kept-rename');
    const input = make('input', { id, type: 'text', autocomplete: 'off' });
    input.value = entry.name;
    const done = (name) => async (event) => {
      event.preventDefault();
      this.renaming = null;
      const wanted = name().trim();
      if (wanted && wanted !== entry.name) {
        const kept = await this.store.rename(kind, entry.id, wanted);
        if (this.session.kept?.id === entry.id) this.session.kept = { id: kept.id, revision: kept.revision };
        this.say('renamed', { from: entry.name, to: kept.name });
      }
      this.redraw();
      this.refocus(this.lists[kind], { entry: entry.id, action: 'rename' });
    };
    return make(
      'form',
      { class: 'rename', 'data-of': this.renaming, on: { submit: done(() => input.value), keydown: (event) => event.key === 'Escape' && void done(() => entry.name)(event) } },
      make('label', { for: id, text: this.t('new_name') }),
      input,
      make('button', { type: 'submit', text: this.t('rename_done') }),
    );
  }

  async duplicate(kind, entry) {
    const { knit, brief, sizes } = structuredClone(entry);
    const made = await this.store.add(kind, entry.name, kind === 'knits' ? { knit } : { brief, sizes });
    this.say('duplicated', { name: made.name });
  }

  async remove(kind, entry) {
    const removed = await this.store.remove(kind, entry.id);
    if (!removed) return;
    this.removed.push({ kind, entry: removed });
    this.say('deleted', { name: this.nameOf(kind, removed) });
    this.drawUndo();
    this.undoPlace.querySelector('button').focus();
  }

  drawUndo() {
    const last = this.removed.at(-1);
    const name = last && this.nameOf(last.kind, last.entry);
    this.undoPlace.replaceChildren(...(last ? [button(this.t('undo'), () => this.undoRemove(), { 'aria-label': this.t('undo_named', { name }) })] : []));
  }

  nameOf(kind, entry) {
    return kind === 'drafts' ? (entry.brief.title || this.t('untitled')) : entry.name;
  }

  async undoRemove() {
    const { kind, entry } = this.removed.pop();
    this.drawUndo();
    const kept = await this.store.restore(kind, entry);
    if (this.session.kept?.id === kept.id) this.session.kept = { id: kept.id, revision: kept.revision };
    this.redraw();
    this.say('restored', { name: this.nameOf(kind, kept) });
    this.refocus(this.lists[kind], { entry: kept.id, action: 'open' });
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
      make('p', { class: 'buttons' }, button(this.t('keep_garment_knit'), keep('garment_knit')), button(this.t('keep_strip_knit'), keep('strip_knit'))),
    );
  }

  // A knit kept twice under one name with the same readings is one knit: its records come together.
  async keepKnit(given, name) {
    const knit = { ...structuredClone(given), name };
    const bare = ({ learned, ...rest }) => rest;
    const before = this.store.list('knits').find((entry) => entry.name === name && canonical(bare(entry.knit)) === canonical(bare(knit)));
    if (!before) {
      const made = await this.store.add('knits', name, { knit });
      this.say('kept', { name: made.name });
      return;
    }
    const learned = unionOfRecords(before.knit.learned, knit.learned);
    await this.store.put('knits', { ...before, knit: learned.length ? { ...before.knit, learned } : before.knit });
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
    this.lists.drafts.hidden = drafts.length === 0;
    this.fillList(this.lists.drafts, drafts.map(asShown), () => [
      make('h3', { text: this.t('heading_drafts') }),
      make('ul', { class: 'entries' }, ...drafts.map((draft) => this.draftRow(draft))),
    ]);
  }

  draftRow(draft) {
    const named = { name: this.nameOf('drafts', draft) };
    return make(
      'li',
      { 'data-entry': draft.id },
      make('span', { class: 'entry-name', text: shown(named.name) }),
      make('span', { class: 'entry-when', text: this.when(draft.changed) }),
      make(
        'span',
        { class: 'buttons' },
        this.action('continue', named, () => this.open('drafts', draft.id)),
        this.action('delete', named, () => this.remove('drafts', draft)),
      ),
    );
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
      make('p', { class: 'buttons' }, button(this.t('export'), () => this.giveOut())),
      make('div', { class: 'field' }, make('label', { for: id, text: this.t('import') }), input),
    );
  }

  async giveOut() {
    await this.session.flush();
    const day = new Date().toISOString().slice(0, 10);
    download(`lieflat-${day}.json`, 'application/json', this.store.exportText());
    this.say('exported');
  }

  async takeIn(input) {
    const file = input.files?.[0];
    if (!file) return;
    try {
      if (file.size > MOST_BYTES) throw new ImportError('too_large');
      this.status.textContent = (await this.told(await this.store.importText(await file.text()))).join(' ');
    } catch (error) {
      this.say(`import_error.${error?.code ?? 'not_json'}`);
    }
    input.value = '';
  }

  /** What taking in a file did, in sentences. */
  async told({ added, skipped, renamed, unread }) {
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
