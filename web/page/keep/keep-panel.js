// The panel of what is kept: briefs, knits, unfinished work, and all of it as a file.

import { button, download, fold, freshId, make, textField } from './dom.js';
import { canonical, unionOfRecords } from './merge.js';
import { sessionOf } from './session.js';

const SEARCH_FROM = 6;

const plain = (text) => text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase();

/**
 * @param {HTMLElement} container
 * @param {{ state: object, reckoner: object, words: object }} page
 */
export function createKeepPanel(container, page) {
  const panel = new KeepPanel(container, page);
  const ready = panel.begin();
  return {
    ready,
    refresh: (words) => panel.refresh(words),
    destroy: () => panel.destroy(),
  };
}

class KeepPanel {
  constructor(container, page) {
    this.container = container;
    this.page = page;
    this.words = page.words;
    this.search = { briefs: '', knits: '' };
    this.renaming = null;
    this.removed = null;
    this.stop = new AbortController();
  }

  async begin() {
    this.session = await sessionOf(this.page);
    this.store = this.session.store;
    const { signal } = this.stop;
    if (signal.aborted) return;
    this.session.addEventListener('change', () => this.redraw(), { signal });
    this.store.addEventListener('trouble', () => this.redraw(), { signal });
    this.page.state.addEventListener('change', () => this.drawWork(), { signal });
    this.build();
  }

  destroy() {
    this.stop.abort();
    this.container.replaceChildren();
  }

  refresh(words) {
    this.words = words;
    if (this.session) this.build();
  }

  t(key, values) {
    return this.words.t(`keep.${key}`, values);
  }

  say(key, values) {
    this.status.textContent = this.t(key, values);
  }

  build() {
    this.status = make('p', { class: 'status', role: 'status' });
    this.undoPlace = make('div', { class: 'undo' });
    this.trouble = make('div', { class: 'trouble' });
    this.work = make('div', { class: 'work' });
    this.lists = { briefs: make('div'), knits: make('div'), drafts: make('div') };
    this.nameField = textField({ label: this.t('name'), value: this.suggestedName(), on: { input: () => (this.nameTyped = true) } });
    fold(
      this.container,
      { key: 'keep', title: this.t('heading') },
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
    return this.session.keptEntry?.name ?? this.page.state.brief.title ?? '';
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
    this.say(beside ? 'kept_beside' : this.store.isStored('briefs', entry.id) ? 'kept' : 'kept_in_memory', { name: entry.name });
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
    const all = this.store.list(kind);
    this[`searchField_${kind}`].hidden = all.length < SEARCH_FROM && this.search[kind] === '';
    const found = this.found(kind);
    const focus = this.focusedAction(this.lists[kind]);
    if (all.length === 0) this.lists[kind].replaceChildren(make('p', { class: 'hint', text: this.t(`none_${kind}`) }));
    else if (found.length === 0) this.lists[kind].replaceChildren(make('p', { class: 'hint', text: this.t('none_found') }));
    else this.lists[kind].replaceChildren(make('ul', { class: 'entries' }, ...found.map((entry) => this.row(kind, entry))));
    this.refocus(this.lists[kind], focus);
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
      make('span', { class: 'entry-name', text: entry.name }),
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
    await this.session.open(kind, id);
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
      { class: 'rename', on: { submit: done(() => input.value), keydown: (event) => event.key === 'Escape' && void done(() => entry.name)(event) } },
      make('label', { for: id, text: this.t('new_name') }),
      input,
      make('button', { type: 'submit', text: this.t('rename_done') }),
    );
  }

  async duplicate(kind, entry) {
    const content = structuredClone(kind === 'knits' ? entry.knit : entry.brief);
    const made = await this.store.add(kind, entry.name, content);
    this.say('duplicated', { name: made.name });
  }

  async remove(kind, entry) {
    const removed = await this.store.remove(kind, entry.id);
    if (!removed) return;
    this.removed = { kind, entry: removed };
    this.say('deleted', { name: this.nameOf(kind, removed) });
    const undo = button(this.t('undo'), () => this.undoRemove(), { 'aria-label': this.t('undo_named', { name: this.nameOf(kind, removed) }) });
    this.undoPlace.replaceChildren(undo);
    undo.focus();
  }

  nameOf(kind, entry) {
    return kind === 'drafts' ? (entry.brief.title ?? this.t('untitled')) : entry.name;
  }

  async undoRemove() {
    const { kind, entry } = this.removed;
    this.removed = null;
    this.undoPlace.replaceChildren();
    const kept = await this.store.restore(kind, entry);
    if (this.session.kept?.id === kept.id) this.session.kept = { id: kept.id, revision: kept.revision };
    this.redraw();
    this.say('restored', { name: this.nameOf(kind, kept) });
    this.refocus(this.lists[kind], { entry: kept.id, action: 'open' });
  }

  // ---- knits

  knitKeeper() {
    const { brief } = this.page.state;
    const field = textField({ label: this.t('knit_name'), value: brief.garment_knit.name ?? '' });
    const keep = (part) => async () => {
      const { brief: now } = this.page.state;
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
      const made = await this.store.add('knits', name, knit);
      this.say('kept', { name: made.name });
      return;
    }
    const learned = unionOfRecords(before.knit.learned, knit.learned);
    await this.store.put('knits', { ...before, knit: learned.length ? { ...before.knit, learned } : before.knit });
    this.say('kept', { name });
  }

  useKnit(entry, part) {
    const brief = structuredClone(this.page.state.brief);
    brief[part] = structuredClone(entry.knit);
    this.page.state.set(brief, { label: this.t(part === 'strip_knit' ? 'label.strip_knit' : 'label.garment_knit', { name: entry.name }) });
    this.say(part === 'strip_knit' ? 'used_strip' : 'used_garment', { name: entry.name });
  }

  // ---- unfinished work

  async drawDrafts() {
    const drafts = await this.session.unfinished();
    if (this.stop.signal.aborted) return;
    const focus = this.focusedAction(this.lists.drafts);
    this.lists.drafts.hidden = drafts.length === 0;
    this.lists.drafts.replaceChildren(
      make('h3', { text: this.t('heading_drafts') }),
      make('ul', { class: 'entries' }, ...drafts.map((draft) => this.draftRow(draft))),
    );
    this.refocus(this.lists.drafts, focus);
  }

  draftRow(draft) {
    const named = { name: this.nameOf('drafts', draft) };
    return make(
      'li',
      { 'data-entry': draft.id },
      make('span', { class: 'entry-name', text: named.name }),
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
      const { added, skipped, renamed, unread } = await this.store.importText(await file.text());
      const lines = [this.t('imported', { added, skipped })];
      if (renamed.length) lines.push(...renamed.map((one) => this.t('imported_renamed', one)));
      if (unread) lines.push(this.words.count('keep.imported_unread', unread));
      this.status.textContent = lines.join(' ');
    } catch (error) {
      this.status.textContent = this.t(`import_error.${error?.code ?? 'not_json'}`);
    }
    input.value = '';
  }
}
