// From a drawing to an edge: its scale and its pages put right where need be, a line pointed at, and the edge between two corners.

import { h, s } from '../common/dom.js';

/** @import { Mark, Place } from './board.js' */
/** @import { Edge, Room, Way } from './room.js' */

/** @typedef {{ path: string, layer?: number | null, style: number, page: number }} Line */
/**
 * @typedef {object} Opened as its messages.rs has it
 * @property {number | null} mm_per_unit
 * @property {[number, number, number, number]} view_box
 * @property {unknown[]} pages
 * @property {string} joined
 * @property {{ name: string, on: boolean }[]} layers
 * @property {{ colour: string, dash: number[] }[]} styles
 * @property {Line[]} lines
 */
/** @typedef {{ ends: [Place, Place], via: Place, whole: boolean, length_mm: number }} Suggested */
/** @typedef {{ name: string | null, style: number, pointed: boolean, edge: Edge & { over: string } }} Size */

/** The longest that a file's answer may take, ms, and how many lines the list for the keyboard has. */
const LIMIT = 3000;
const LISTED = 100;
/** Points that say which edge is meant, and those that its scale is told by. */
const ENDS = ['neck', 'centre'];
const KNOWN = ['from', 'to'];
/** What is asked for where the file does not tell it. @type {Record<string, string>} */
const MISSING = { no_centre_line: 'down' };

/** @implements {Way} */
export class FilesWay {
  kind = /** @type {const} */ ('file');
  /** @type {'scale' | 'join' | 'line'} */
  #step = 'line';
  /** @type {Opened | undefined} */
  #opened;
  /** @type {Map<string, Place>} */
  #at = new Map();
  /** @type {string | undefined} */
  #wanted;
  /** @type {number | undefined} */
  #line;
  /** @type {Suggested[]} */
  #suggested = [];
  /** A place on a suggested edge: which way round it runs. @type {Place | undefined} */
  #via;
  /** @type {boolean | undefined} */
  #whole;
  /** @type {Size[]} */
  #sizes = [];
  /** @type {Record<string, string>} */
  #texts = { known: '', columns: '1', over0: '', over1: '' };
  /** Layers and styles that are not shown. */
  #hidden = { layer: new Set(), style: new Set() };
  /** @type {Set<number>} */
  #without = new Set();
  /** @type {SVGElement[]} */
  #drawn = [];

  /** @param {Room} room @param {File} file */
  constructor(room, file) {
    this.room = room;
    this.file = file;
    const worker = new Worker(new URL('files-worker.js', import.meta.url), { type: 'module' });
    // By what stands in it the Worker knows what it needs to read it.
    worker.postMessage(file);
    this.job = room.job(worker);
  }

  /** @param {Record<string, unknown>} message */
  #ask(message) {
    return this.job.ask(message, LIMIT);
  }

  async begin() {
    const { opened } = await this.#ask({ do: 'open', file: this.file });
    for (const [i, { on }] of opened.layers.entries()) if (!on) this.#hidden.layer.add(i);
    this.#lay(opened);
    this.#step = opened.joined === 'apart' ? 'join' : opened.mm_per_unit ? 'line' : 'scale';
    this.draw();
  }

  end() {
    this.job.end();
  }

  /** @param {Opened} opened */
  #lay(opened) {
    this.#opened = opened;
    const { styles, view_box: box, lines } = opened;
    this.#drawn = lines.map(({ path, style }, i) => {
      const { colour, dash } = styles[style];
      return s('path', {
        d: path,
        'data-line': i,
        class: `bring-line${isPale(colour) ? '' : ' bring-own'}`,
        stroke: colour,
        'stroke-dasharray': dash.length ? '6 4' : null,
      });
    });
    this.room.board.lay(box, this.#drawn, box[2] / 2000);
    this.#show();
  }

  /** Shows the layers and kinds of line that are ticked. */
  #show() {
    for (const [i, { layer, style }] of (this.#opened?.lines ?? []).entries()) {
      const isHidden = this.#hidden.layer.has(layer) || this.#hidden.style.has(style);
      this.#drawn[i].toggleAttribute('hidden', isHidden);
      this.#drawn[i].style.display = isHidden ? 'none' : '';
    }
  }

  again() {
    this.#forget();
    this.draw();
  }

  #forget() {
    this.#at.clear();
    this.#line = undefined;
    this.#suggested = [];
    this.#sizes = [];
    this.#whole = undefined;
    this.#wanted = undefined;
    this.room.board.trace('');
  }

  draw() {
    const { room } = this;
    room.board.marks(
      [...this.#at].map(([id, at]) => /** @type {Mark} */ ({ id, at, name: room.t(`point.${id}`, { n: '1' }), isVia: id === 'via' })),
    );
    room.board.want(this.#wanted);
    room.say(
      this.#wanted ? `file.put_${this.#wanted}` : this.#line === undefined || this.#step !== 'line' ? `file.${this.#step}` : 'file.chosen',
    );
    room.controls(this.#step === 'scale' ? this.#scaleControls() : this.#step === 'join' ? this.#joinControls() : this.#lineControls());
  }

  #scaleControls() {
    const { room } = this;
    const { t } = room;
    return [
      this.#put(),
      this.#typed('known', t('file.known')),
      h(
        'div',
        { class: 'buttons' },
        room.button('scale', t('file.set_scale'), () => this.#setScale(), true),
        room.button('between', t('file.between'), () => this.#want('from')),
        Boolean(this.#opened?.mm_per_unit) && room.button('line-again', t('file.keep_scale'), () => this.#go('line')),
      ),
      this.#lineList(),
    ];
  }

  #joinControls() {
    const { room } = this;
    const { t } = room;
    return [
      this.#typed('columns', t('file.columns'), false),
      h('div', { class: 'row' }, this.#typed('over0', t('file.over_x')), this.#typed('over1', t('file.over_y'))),
      this.#ticks(
        'page',
        t('file.pages'),
        (this.#opened?.pages ?? []).map((_, i) => [i, t('file.page', { n: String(i + 1) })]),
        this.#without,
        () => {},
      ),
      h(
        'div',
        { class: 'buttons' },
        room.button('join', t('file.join_now'), () => this.#join(), true),
        room.button('line-again', t('file.joined'), () => this.#go(this.#opened?.mm_per_unit ? 'line' : 'scale')),
      ),
    ];
  }

  #lineControls() {
    const { room } = this;
    const { t } = room;
    const { layers = [], styles = [], pages = [] } = this.#opened ?? {};
    const isChosen = this.#line !== undefined;
    return [
      this.#put(),
      this.#suggested.length > 1 &&
        room.select(
          'edges',
          t('file.edges'),
          this.#suggested.map(({ length_mm, whole }, i) => [
            String(i),
            t(whole ? 'file.edge_whole' : 'file.edge_half', { length: room.length(length_mm) }),
          ]),
          this.#pickedOf(),
          (i) => this.#pick(this.#suggested[Number(i)]),
        ),
      this.#sizes.length > 1 &&
        room.select(
          'sizes',
          t('file.sizes'),
          this.#sizes.map((size, i) => [String(i), this.#nameOf(size, i)]),
          String(this.#sizes.findIndex(({ pointed }) => pointed)),
          (i) => this.#useSize(Number(i)),
        ),
      isChosen &&
        h(
          'div',
          { class: 'buttons' },
          room.button('ends', t('file.own_ends'), () => this.#ownEnds()),
          this.#at.size > 1 && room.button('via', t('file.other_way'), () => this.#want('via')),
        ),
      isChosen &&
        room.choice(
          'whole',
          t('file.half'),
          [
            ['', t('file.by_itself')],
            ['half', t('file.is_half')],
            ['whole', t('file.is_whole')],
          ],
          this.#whole === undefined ? '' : this.#whole ? 'whole' : 'half',
          (whole) => {
            this.#whole = whole ? whole === 'whole' : undefined;
            this.#edgeNow();
          },
        ),
      layers.length > 1 &&
        this.#ticks(
          'layer',
          t('file.layers'),
          layers.map(({ name }, i) => [i, name]),
          this.#hidden.layer,
          () => this.#show(),
        ),
      styles.length > 1 &&
        this.#ticks(
          'style',
          t('file.styles'),
          styles.map((_, i) => [i, this.#styleName(i)]),
          this.#hidden.style,
          () => this.#show(),
        ),
      this.#lineList(),
      h(
        'div',
        { class: 'buttons' },
        room.button('scale-again', t('file.check_scale'), () => this.#go('scale')),
        pages.length > 1 && room.button('join-again', t('file.join_again'), () => this.#go('join')),
      ),
    ];
  }

  /** @param {number} i */
  #styleName(i) {
    const { colour, dash } = this.#opened?.styles[i] ?? { colour: '', dash: [] };
    return this.room.t(dash.length ? 'file.dashed' : 'file.plain', { colour });
  }

  /** @param {Size} size @param {number} i */
  #nameOf({ name, style, edge }, i) {
    return `${name ?? this.room.t('file.nth', { n: String(i + 1), style: this.#styleName(style) })}: ${this.room.length(edge.length_mm)}`;
  }

  #put() {
    return (
      this.#wanted && this.room.button('put', this.room.t('put_here'), () => this.move(this.#wanted ?? '', this.room.board.middle, true))
    );
  }

  /** @param {string} name @param {string} label @param {boolean} [isLength] */
  #typed(name, label, isLength) {
    const act = (/** @type {string} */ text) => {
      this.#texts[name] = text;
    };
    return this.room.field(name, label, this.#texts[name], act, isLength);
  }

  /**
   * Boxes to be ticked, one for each of a file's parts: what is ticked is shown.
   * @param {string} id @param {string} legend @param {[number, string][]} options @param {Set<unknown>} without @param {() => void} act
   */
  #ticks(id, legend, options, without, act) {
    const boxes = options.map(([i, text]) => {
      const box = h('input', { type: 'checkbox', id: `bring-${id}-${i}` });
      box.checked = !without.has(i);
      box.addEventListener('change', () => {
        if (box.checked) without.delete(i);
        else without.add(i);
        act();
      });
      return h('div', { class: 'option' }, box, h('label', { for: box.id, text }));
    });
    return h(
      'details',
      { class: 'bring-ticks' },
      h('summary', { text: legend }),
      h('fieldset', {}, h('legend', { class: 'unseen', text: legend }), boxes),
    );
  }

  /** The lines that are shown, the largest first: what cannot be tapped can be chosen here. */
  #lineList() {
    const { t } = this.room;
    const lines = this.#opened?.lines ?? [];
    const listed = lines
      .map((line, i) => ({ line, i }))
      .filter(({ line }) => !this.#hidden.layer.has(line.layer) && !this.#hidden.style.has(line.style))
      .map((one) => ({ ...one, size: one.line.path.length > 2 ? sizeOf(this.#drawn[one.i]) : 0 }))
      .sort((a, b) => b.size - a.size)
      .slice(0, LISTED);
    const options = listed.map(({ line, i }, n) => {
      const layer = this.#opened?.layers[line.layer ?? -1]?.name;
      return /** @type {[string, string]} */ ([
        String(i),
        t('file.nth', { n: String(n + 1), style: layer || this.#styleName(line.style) }),
      ]);
    });
    return this.room.select(
      'lines',
      t('file.lines'),
      [['', t('file.none')], ...options],
      String(this.#line ?? ''),
      (i) => i && this.#choose(Number(i)),
    );
  }

  /** @param {'scale' | 'join' | 'line'} step */
  #go(step) {
    this.#forget();
    this.room.withdraw();
    this.#step = step;
    this.draw();
  }

  /** @param {string} [id] */
  #want(id) {
    this.#wanted = id;
    this.draw();
  }

  /** @param {string[]} near */
  tap(near) {
    if (near.length) this.#choose(Number(near[0]));
  }

  /** @param {number} line */
  #choose(line) {
    if (this.#step === 'join') return;
    this.#forget();
    this.room.withdraw();
    this.#line = line;
    void this.room.work(async () => {
      if (this.#step === 'scale') {
        this.room.board.trace(this.#opened?.lines[line].path ?? '');
        this.draw();
        return;
      }
      const { piece } = await this.#ask({ do: 'piece', line });
      this.room.board.trace(piece.path);
      this.#suggested = piece.suggested;
      if (piece.suggested.length) await this.#take(piece.suggested[0]);
      else this.#want('neck');
    });
  }

  /** @param {Suggested} suggested */
  #pick(suggested) {
    void this.room.work(() => this.#take(suggested));
  }

  #pickedOf() {
    const at = JSON.stringify(ENDS.map((id) => this.#at.get(id)));
    return String(this.#suggested.findIndex(({ ends }) => JSON.stringify(ends) === at));
  }

  /** @param {Suggested} suggested */
  async #take({ ends, via }) {
    this.#via = via;
    for (const [i, id] of ENDS.entries()) this.#at.set(id, ends[i]);
    this.#at.delete('via');
    this.#wanted = undefined;
    await this.#edge();
  }

  #ownEnds() {
    for (const id of [...ENDS, 'via', 'down']) this.#at.delete(id);
    this.#via = undefined;
    this.room.withdraw();
    this.#want('neck');
  }

  /** @param {string} id @param {Place} at @param {boolean} isDone */
  move(id, at, isDone) {
    this.#at.set(id, at);
    if (!isDone) return;
    if (id === this.#wanted) {
      const order = KNOWN.includes(id) ? KNOWN : ENDS;
      this.#want(order.find((one) => !this.#at.has(one)));
      this.room.board.focus(id);
    }
    if (!KNOWN.includes(id)) this.#edgeNow();
  }

  /** @param {string} id */
  remove(id) {
    this.#at.delete(id);
    this.#edgeNow();
  }

  #edgeNow() {
    if (ENDS.every((id) => this.#at.has(id))) void this.room.work(() => this.#edge());
  }

  get #asked() {
    const [neck, centre, via, down] = [...ENDS, 'via', 'down'].map((id) => this.#at.get(id));
    return { line: this.#line, ends: [neck, centre], via: via ?? this.#via, down, whole: this.#whole };
  }

  /** The edge between the ends, and the same of every size. */
  async #edge() {
    try {
      const { edge } = await this.#ask({ do: 'edge', ...this.#asked });
      const { sizes } = await this.#ask({ do: 'sizes', ...this.#asked }).catch(() => ({ sizes: { sizes: [] } }));
      this.#sizes = sizes.sizes;
      this.#offer(edge);
    } catch (why) {
      const missing = MISSING[/** @type {{ code?: string }} */ (why).code ?? ''];
      if (!missing || this.#at.has(missing)) {
        this.draw();
        throw why;
      }
      this.#want(missing);
    }
  }

  /** @param {Edge & { over: string }} edge */
  #offer(edge) {
    this.room.board.trace(edge.over);
    this.draw();
    this.room.offer({ edge, sizes: this.#sizes.map((size, i) => ({ name: size.name ?? String(i + 1), edge: size.edge })) });
  }

  /** Takes another size, with what was pointed out on one. @param {number} at */
  #useSize(at) {
    this.#sizes = this.#sizes.map((size, i) => ({ ...size, pointed: i === at }));
    this.#offer(this.#sizes[at].edge);
  }

  /** What a reading that does not fit is most like. @param {number} found_mm @param {number} known_mm @returns {Promise<string | undefined>} */
  async lookFor(found_mm, known_mm) {
    return (await this.#ask({ do: 'check', found_mm, known_mm })).checked.look_for;
  }

  #setScale() {
    const { room } = this;
    const mm = room.reckoner.parseLength(this.#texts.known, room.unit).mm ?? 0;
    const [from, to] = KNOWN.map((id) => this.#at.get(id));
    void room.work(async () => {
      const { scaled } = await this.#ask({ do: 'scale', mm, ...(from && to ? { from, to } : { line: this.#line }) });
      if (this.#opened) this.#opened.mm_per_unit = scaled.mm_per_unit;
      this.#go('line');
    });
  }

  #join() {
    const { room } = this;
    const [x, y] = [this.#texts.over0, this.#texts.over1].map((text) => room.reckoner.parseLength(text, room.unit).mm ?? 0);
    void room.work(async () => {
      const { opened } = await this.#ask({
        do: 'join',
        columns: Number.parseInt(this.#texts.columns, 10) || 1,
        overlap_x_mm: x,
        overlap_y_mm: y,
        without: [...this.#without],
      });
      this.#lay(opened);
      this.draw();
    });
  }
}

/** How large a line is drawn. @param {SVGElement} drawn */
function sizeOf(drawn) {
  const { width, height } = /** @type {SVGPathElement} */ (drawn).getBBox();
  return width + height;
}

/** Whether a colour would hardly be seen on white. @param {string} colour #rrggbb */
function isPale(colour) {
  const [r, g, b] = [1, 3, 5].map((i) => Number.parseInt(colour.slice(i, i + 2), 16));
  return 0.3 * r + 0.59 * g + 0.11 * b > 180;
}
