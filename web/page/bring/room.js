// The room where a pattern of one's own is brought: a photo or a file, the edge pointed out on it, held against the real thing, and
// taken into the brief as one step. Nothing leaves the device; what is brought is forgotten when the room is closed.

import { choice, textField } from '../common/controls.js';
import { fill, h } from '../common/dom.js';
import { fetched } from '../common/fetched.js';
import { keepPlace } from '../common/in-hand.js';
import { Board } from './board.js';
import { Job, Refusal } from './job.js';
import { comparison, kindOf, valuesFor } from './taking.js';

/** @import { Steps } from '../form/steps.js' */
/** @import { Reckoner } from '../plan/reckoner.js' */
/** @import { State } from '../common/state.js' */
/** @import { Values, Words } from '../common/words.js' */
/** @import { Child } from '../common/dom.js' */
/** @import { Place } from './board.js' */

/** @typedef {'front' | 'back'} HalfName */
/**
 * @typedef {object} Edge an edge as a module tells it; lengths in mm
 * @property {string} path_mm
 * @property {number} length_mm
 * @property {number} width_mm
 * @property {number} depth_mm
 * @property {number} uncertainty_mm
 * @property {string[]} [doubts]
 */
/** @typedef {{ name: string, edge: Edge }[]} Sizes the same edge of a file's sizes */
/** @typedef {{ edge: Edge, readingsAt?: 'cut_edge' | 'seam_line', sizes?: Sizes }} Brought an edge to be taken, and which line it is where that is known */
/**
 * @typedef {object} Way from what was brought to an edge
 * @property {'photo' | 'file'} kind
 * @property {() => Promise<void>} begin
 * @property {() => void} draw shows what it asks, in the words of now
 * @property {() => void} again points the other half out
 * @property {(id: string, at: Place, isDone: boolean) => unknown} move
 * @property {(id: string) => void} remove
 * @property {(near: string[], at: Place) => void} tap
 * @property {(found: number, read: number) => Promise<string | undefined>} [lookFor] what a reading that does not fit is most like
 * @property {() => void} end
 */
/** @typedef {{ form: Pick<Steps, 'change'>, state: State, reckoner: Reckoner, words: () => Words }} Page */

const HALVES = /** @type {const} */ (['front', 'back']);
const HELD = /** @type {const} */ (['length_mm', 'width_mm', 'depth_mm']);

/**
 * Each fetched when it is wanted; `more` by the way of files.
 * @typedef {Record<'photo' | 'file', () => Promise<new (room: Room, file: File) => Way>> & { more: () => Promise<typeof import('./files-more.js').FilesMore> }} Ways
 */

/** @param {Page} page @param {Ways} ways */
export const createRoom = (page, ways) => new Room(page, ways);

export class Room {
  /** @type {HalfName} */
  half = 'front';
  /** @type {Way | undefined} */
  #way;
  /** @type {Brought | undefined} */
  #brought;
  /** @type {typeof HELD[number]} */
  #held = 'length_mm';
  #reading = '';
  /** What to look for where the reading does not fit. */
  #look = '';
  /** The sizes of what was taken last, so that another can be taken without pointing again. @type {Partial<Record<HalfName, Sizes>>} */
  #kept = {};
  /** @type {'cut_edge' | 'seam_line'} */
  #readingsAt = 'cut_edge';
  /** What a person did last is what is shown; each opening has a turn of its own. */
  #turn = 0;
  dialog = h('dialog');
  said = h('p', { class: 'bring-said', role: 'status' });
  wrong = h('p', { class: 'error', role: 'alert' });
  asked = h('div', { class: 'bring-asked' });
  trust = h('div', { class: 'bring-trust' });

  /** @param {Page} page @param {Ways} ways */
  constructor(page, ways) {
    this.page = page;
    this.ways = ways;
    this.reckoner = page.reckoner;
    this.board = new Board(this.t, {
      move: (id, at, isDone) => this.#way?.move(id, at, isDone),
      remove: (id) => this.#way?.remove(id),
      tap: (near, at) => this.#way?.tap(near, at),
    });
  }

  /** @param {string} key @param {Values} [values] */
  t = (key, values) => this.page.words().t(`bring.${key}`, values);

  /** @param {string} key @param {Values} [values] */
  #pageWords = (key, values) => this.page.words().t(key, values);

  /** What a half is called. */
  #nameOf(half = this.half) {
    return this.#pageWords(`half.${half}`);
  }

  get unit() {
    return this.page.state.unit;
  }

  /** @param {number} mm */
  length(mm) {
    return this.page.words().length(mm, this.unit);
  }

  /** Opens the room, for a half of the neckline or for what was handed to the page. @param {HalfName} [half] @param {File} [file] */
  open(half = this.half, file) {
    this.half = half;
    if (!this.dialog.open) this.#build();
    if (file) void this.#take(file);
    else this.#choose();
  }

  #build() {
    const { t } = this;
    this.dialog = h(
      'dialog',
      { class: 'bring', 'aria-labelledby': 'bring-title' },
      h(
        'div',
        { class: 'heading-row' },
        h('h2', { id: 'bring-title', text: this.#pageWords('page.bring') }),
        this.button('close', t('close'), () => this.dialog.close()),
      ),
      this.said,
      this.wrong,
      this.board.element,
      this.asked,
      this.trust,
    );
    const { dialog } = this;
    this.board.say();
    dialog.addEventListener('close', () => {
      this.#forget();
      dialog.remove();
    });
    // A file let go anywhere in the room is meant for it.
    dialog.addEventListener('dragover', (event) => event.preventDefault());
    dialog.addEventListener('drop', (event) => this.#given(event, event.dataTransfer));
    dialog.addEventListener('paste', (event) => this.#given(event, event.clipboardData));
    document.body.append(dialog);
    dialog.showModal();
  }

  /** @param {Event} event @param {DataTransfer | null} data */
  #given(event, data) {
    const file = data?.files[0];
    if (!file) return;
    event.preventDefault();
    void this.#take(file);
  }

  /** Ends what is going on and forgets what was brought. */
  #forget() {
    this.#turn += 1;
    this.#way?.end();
    this.#way = undefined;
    this.withdraw();
    this.board.lay([0, 0, 1, 1], []);
    this.#busy(false);
  }

  /** Asks what is to be brought. */
  #choose() {
    this.#forget();
    this.board.element.hidden = true;
    this.#askForFile();
    this.asked.querySelector('input')?.focus();
  }

  #askForFile() {
    const { t } = this;
    /** @param {string} id @param {Record<string, string>} accepts */
    const input = (id, accepts) => {
      const field = h('input', { type: 'file', id: `bring-${id}`, ...accepts });
      field.addEventListener('change', () => field.files?.[0] && this.#take(field.files[0]));
      return h('label', { class: 'pick', for: field.id }, field, h('span', { text: t(`choose.${id}`) }));
    };
    this.say('choose.lead');
    this.controls([
      this.#halfChoice(() => this.#askForFile()),
      h(
        'div',
        { class: 'buttons' },
        matchMedia('(pointer: coarse)').matches && input('camera', { accept: 'image/*', capture: 'environment' }),
        input('file', { accept: 'image/*,application/pdf,.pdf,.svg,.dxf' }),
      ),
      this.#keptSizes(),
      h('p', { class: 'hint', text: t('choose.photo') }),
      h('p', { class: 'hint', text: t('choose.private') }),
    ]);
  }

  /** Another size of the pattern that was taken last. */
  #keptSizes() {
    const kept = this.#kept[this.half];
    if (!kept) return null;
    const options = kept.map(
      ({ name, edge }, i) => /** @type {[string, string]} */ ([String(i), `${name}: ${this.length(edge.length_mm)}`]),
    );
    return this.select(
      'kept',
      this.t('choose.kept'),
      [['', this.t('choose.none')], ...options],
      '',
      (i) => i && this.offer({ edge: kept[Number(i)].edge, sizes: kept }),
    );
  }

  /** @param {() => void} then */
  #halfChoice(then) {
    const options = HALVES.map((half) => /** @type {[HalfName, string]} */ ([half, this.#nameOf(half)]));
    return this.choice('half', this.t('half'), options, this.half, (half) => {
      this.half = half;
      then();
    });
  }

  /** @param {File} file */
  async #take(file) {
    this.#forget();
    const turn = this.#turn;
    const kind = kindOf(file);
    this.wrong.textContent = '';
    if (!kind) {
      this.#choose();
      this.refuse(new Refusal('kind'));
      return;
    }
    this.say('opening', { file: file.name });
    this.controls([]);
    await this.work(async () => {
      const Kind = await this.fetched(this.ways[kind]);
      if (turn !== this.#turn) return;
      this.board.element.hidden = false;
      this.#way = new Kind(this, file);
      await this.#way.begin();
    });
    if (turn === this.#turn) this.board.view.focus({ preventScroll: true });
  }

  /** What is under way. @type {Promise<unknown>} */
  #atWork = Promise.resolve();

  /** Does what takes a while; what is refused is said. @param {() => Promise<unknown>} act */
  work(act) {
    const done = this.#does(act);
    this.#atWork = Promise.all([this.#atWork, done]);
    return done;
  }

  /** @param {() => Promise<unknown>} act */
  async #does(act) {
    const turn = this.#turn;
    this.#busy(true);
    this.wrong.textContent = '';
    try {
      await act();
    } catch (why) {
      // What was called off says nothing any more.
      if (turn === this.#turn) this.refuse(why);
    }
    if (turn === this.#turn) this.#busy(false);
  }

  /** @param {boolean} isBusy */
  #busy(isBusy) {
    this.dialog.toggleAttribute('aria-busy', isBusy);
  }

  /** Says why something cannot be had. Without its Worker a way leads nowhere: then another file is asked for. @param {unknown} why */
  refuse(why) {
    const refusal = why instanceof Refusal ? why : new Refusal('broken');
    if (!(why instanceof Refusal)) console.error(why);
    this.withdraw();
    if (['slow', 'broken', 'lost'].includes(refusal.code) || !this.board.picture.hasChildNodes()) this.#choose();
    const key = `refused.${refusal.code}`;
    const words = this.page.words();
    this.wrong.textContent = this.t(words.has(`bring.${key}`) ? key : 'refused.other', {
      code: refusal.code,
      ...this.#figures(refusal.figures),
    });
  }

  /** Figures in words, by what their names say they are. @param {Record<string, unknown>} figures @returns {Values} */
  #figures(figures) {
    const words = this.page.words();
    /** @param {string} name @param {unknown} value */
    const said = (name, value) => {
      if (typeof value !== 'number') return String(value);
      if (name.endsWith('_mm')) return this.length(value);
      return words.number(value, { digits: Math.abs(value) < 10 ? 1 : 0 });
    };
    return Object.fromEntries(Object.entries(figures).map(([name, value]) => [name, said(name, value)]));
  }

  /** A part that is fetched when it is wanted. @template Part @param {() => Promise<Part>} load @returns {Promise<Part>} */
  fetched(load) {
    return fetched(this.asked, load, { key: 'offline.missing', words: this.page.words });
  }

  /** Has a Worker answer. @param {Worker} worker */
  job(worker) {
    return new Job(worker);
  }

  // ---- what the ways show themselves with

  /** @param {string} key @param {Values} [values] */
  say(key, values) {
    const text = this.t(key, values);
    if (this.said.textContent !== text) this.said.textContent = text;
  }

  /** @param {Child[]} children */
  controls(children) {
    keepPlace(this.asked, () => fill(this.asked, children));
  }

  /** @param {string} id @param {string} text @param {() => unknown} act @param {boolean} [isMain] */
  button(id, text, act, isMain = false) {
    return h('button', { type: 'button', id: `bring-${id}`, class: isMain && 'primary', onclick: act, text });
  }

  /**
   * A choice among a few, all of them seen.
   * @template {string} Option @param {string} id @param {string} legend @param {[Option, string][]} options @param {Option} value @param {(option: Option) => void} onChange
   */
  choice(id, legend, options, value, onChange) {
    return choice({ name: `bring-${id}`, legend, options, value, onChange }).group;
  }

  /** @param {string} id @param {string} label @param {[string, string][]} options @param {string} value @param {(option: string) => void} act */
  select(id, label, options, value, act) {
    const select = h(
      'select',
      { id: `bring-${id}` },
      options.map(([option, text]) => h('option', { value: option, text })),
    );
    select.value = value;
    select.addEventListener('change', () => act(select.value));
    return h('div', { class: 'field' }, h('label', { for: select.id, text: label }), select);
  }

  /** A length that is typed, or a count. @param {string} name @param {string} label @param {string} value @param {(text: string) => void} act @param {boolean} [isLength] */
  field(name, label, value, act, isLength = true) {
    const id = `bring-${name}`;
    const { field, input } = textField({
      id,
      label,
      unit: isLength ? this.unit : undefined,
      value,
      inputmode: 'decimal',
      on: { change: () => act(input.value) },
    });
    return field;
  }

  // ---- trust: the edge as it was found, held against the real thing

  /** Shows an edge that may be taken. @param {Brought} brought */
  offer(brought) {
    if (!this.#brought) this.#readingsAt = brought.readingsAt ?? this.page.state.brief.neckline.readings_at;
    this.#brought = brought;
    this.say('trust.length', this.#lengthOf(brought));
    this.#showTrust();
  }

  /** @param {Brought} brought */
  #lengthOf({ edge }) {
    return { length: this.length(edge.length_mm), by: this.length(edge.uncertainty_mm) };
  }

  /** There is no edge to be taken any more. */
  withdraw() {
    this.#brought = undefined;
    this.#reading = '';
    this.#look = '';
    this.trust.replaceChildren();
  }

  #showTrust() {
    const { t } = this;
    const brought = this.#brought;
    if (!brought) return;
    const { edge } = brought;
    // What is being typed stays when the line is found anew.
    const typed = this.trust.querySelector('input');
    if (typed?.id === 'bring-reading') this.#reading = typed.value;
    const held = comparison(edge[this.#held], this.#readingMm);
    const words = this.page.words();
    const half = this.#nameOf();
    const off = held && { percent: words.percent(held.percent), brought: this.length(edge[this.#held]) };
    keepPlace(this.trust, () =>
      fill(
        this.trust,
        h('h3', { text: t('trust.heading', { half }) }),
        h('p', { class: 'bring-length', text: t('trust.length', this.#lengthOf(brought)) }),
        h('p', { text: t('trust.sides', { width: this.length(edge.width_mm), depth: this.length(edge.depth_mm) }) }),
        edge.doubts?.map((code) => h('p', { class: 'caution', text: `▲ ${t(`doubt.${code}`)}` })),
        h('p', { class: 'hint', text: t('trust.hold') }),
        h(
          'div',
          { class: 'row' },
          this.select(
            'held',
            t('trust.which'),
            HELD.map((name) => [name, t(`trust.held.${name}`)]),
            this.#held,
            (name) => {
              this.#held = HELD.find((one) => one === name) ?? 'length_mm';
              void this.#compare();
            },
          ),
          this.field('reading', t('trust.reading'), this.#reading, (text) => {
            this.#reading = text;
            void this.#compare();
          }),
        ),
        h(
          'div',
          { role: 'status' },
          off && h('p', { class: held.isOff ? 'warning' : 'good', text: t(held.isOff ? 'trust.off' : 'trust.agrees', off) }),
          held?.isOff && this.#look && h('p', { class: 'hint', text: t(`trust.look.${this.#look}`) }),
        ),
        this.choice(
          'readings-at',
          t('trust.line'),
          [
            ['cut_edge', t('trust.cut_edge')],
            ['seam_line', t('trust.seam_line')],
          ],
          this.#readingsAt,
          (line) => {
            this.#readingsAt = line === 'seam_line' ? 'seam_line' : 'cut_edge';
          },
        ),
        this.#halfChoice(() => this.#showTrust()),
        this.button('take', t('trust.take', { half }), () => this.#use(), true),
      ),
    );
  }

  get #readingMm() {
    return this.reckoner.parseLength(this.#reading, this.unit).mm;
  }

  /** Holds the reading against what was found. */
  async #compare() {
    const [found, read] = [this.#brought?.edge[this.#held] ?? 0, this.#readingMm];
    this.#look = '';
    this.#showTrust();
    if (!comparison(found, read)?.isOff) return;
    const look = (await this.#way?.lookFor?.(found, read ?? 0).catch(() => '')) || (this.#way?.kind === 'photo' ? 'photo' : 'other_line');
    this.#look = look;
    this.#showTrust();
  }

  /** Takes the edge into the brief: one step, which can be taken back. */
  async #use() {
    // A place that was moved last may have its line still to come: that one is taken.
    await this.#atWork;
    const brought = this.#brought;
    if (!brought) return;
    const { t } = this;
    const half = this.#nameOf();
    this.page.form.change(valuesFor(this.half, brought.edge, this.#readingsAt), t('step', { half }));
    const sizes = brought.sizes && brought.sizes.length > 1 ? brought.sizes : undefined;
    this.#kept[this.half] = sizes;
    this.withdraw();
    const other = this.half === 'front' ? 'back' : 'front';
    this.say('taken', { half });
    this.controls([
      h(
        'div',
        { class: 'buttons' },
        this.button('done', t('done'), () => this.dialog.close(), true),
        this.#way &&
          this.button('other-half', t('other_half', { half: this.#nameOf(other) }), () => {
            this.half = other;
            this.#way?.again();
          }),
        sizes && this.button('all-sizes', t('all_sizes'), () => this.#useSizes(sizes, brought.edge)),
        this.button('other-file', t('other_file'), () => this.#choose()),
      ),
    ]);
    this.asked.querySelector('button')?.focus();
  }

  /** Has the table of all sizes show each of them. @param {Sizes} sizes @param {Edge} base the one that was taken */
  #useSizes(sizes, base) {
    const at = sizes.findIndex(({ edge }) => edge.path_mm === base.path_mm);
    this.page.state.dispatchEvent(new CustomEvent('brought', { detail: { halves: this.#kept, base: Math.max(at, 0) } }));
    this.say('sizes_taken', { count: this.page.words().number(sizes.length) });
  }
}
