// From a drawing to an edge: a line pointed at, and the edge between two corners. What only some files need is fetched for those.

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
  opened;
  /** @type {Map<string, Place>} */
  at = new Map();
  /** @type {string | undefined} */
  #wanted;
  /** @type {number | undefined} */
  line;
  /** @type {Suggested[]} */
  #suggested = [];
  /** A place on a suggested edge: which way round it runs. @type {Place | undefined} */
  #via;
  /** @type {boolean | undefined} */
  #whole;
  /** @type {Size[]} */
  sizes = [];
  /** Layers and styles that are not shown. */
  hidden = { layer: new Set(), style: new Set() };
  /** What only some files need, once it was wanted. @type {import('./files-more.js').FilesMore | undefined} */
  #more;
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
  ask(message) {
    return this.job.ask(message, LIMIT);
  }

  async begin() {
    const { opened } = await this.ask({ do: 'open', file: this.file });
    for (const [i, { on }] of opened.layers.entries()) if (!on) this.hidden.layer.add(i);
    this.lay(opened);
    if (Math.max(opened.layers.length, opened.styles.length) > 1) await this.#needMore();
    await this.to(opened.joined === 'apart' ? 'join' : opened.mm_per_unit ? 'line' : 'scale');
  }

  end() {
    this.job.end();
  }

  /** @param {Opened} opened */
  lay(opened) {
    this.opened = opened;
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
    this.show();
  }

  /** Shows the layers and kinds of line that are ticked. */
  show() {
    for (const [i, line] of (this.opened?.lines ?? []).entries()) this.#drawn[i].toggleAttribute('hidden', this.#isHidden(line));
  }

  /** @param {Line} line */
  #isHidden({ layer, style }) {
    return this.hidden.layer.has(layer) || this.hidden.style.has(style);
  }

  again() {
    this.#forget();
    this.draw();
  }

  #forget() {
    this.at.clear();
    this.line = undefined;
    this.#suggested = [];
    this.sizes = [];
    this.#whole = undefined;
    this.#wanted = undefined;
    this.room.withdraw();
    this.room.board.trace('');
  }

  draw() {
    const { room } = this;
    room.board.marks(
      [...this.at].map(([id, at]) => /** @type {Mark} */ ({ id, at, name: room.t(`point.${id}`, { n: '1' }), isVia: id === 'via' })),
    );
    room.board.want(this.#wanted);
    room.say(
      this.#wanted ? `file.put_${this.#wanted}` : this.line === undefined || this.#step !== 'line' ? `file.${this.#step}` : 'file.chosen',
    );
    room.controls((this.#step !== 'line' && this.#more?.[this.#step]()) || this.#lineControls());
  }

  #lineControls() {
    const { room } = this;
    const { t } = room;
    const isChosen = this.line !== undefined;
    return [
      this.put(),
      this.#suggested.length > 1 &&
        room.select(
          'edges',
          t('file.edges'),
          this.#suggested.map(({ length_mm, whole }, i) => [
            String(i),
            t(whole ? 'file.edge_whole' : 'file.edge_half', { length: room.length(length_mm) }),
          ]),
          this.#pickedOf(),
          (i) => room.work(() => this.#take(this.#suggested[Number(i)])),
        ),
      this.sizes.length > 1 && this.#more?.sizes(),
      isChosen &&
        h(
          'div',
          { class: 'buttons' },
          room.button('ends', t('file.own_ends'), () => this.#ownEnds()),
          this.at.size > 1 && room.button('via', t('file.other_way'), () => this.want('via')),
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
      this.#more?.shown(),
      this.lineList(),
      h(
        'div',
        { class: 'buttons' },
        this.leads('scale', 'file.check_scale'),
        Number(this.opened?.pages.length) > 1 && this.leads('join', 'file.join_again'),
      ),
    ];
  }

  /** @param {number} i */
  styleName(i) {
    const { colour, dash } = /** @type {Opened} */ (this.opened).styles[i];
    return this.room.t(dash.length ? 'file.dashed' : 'file.plain', { colour });
  }

  put() {
    return (
      this.#wanted && this.room.button('put', this.room.t('put_here'), () => this.move(this.#wanted ?? '', this.room.board.middle, true))
    );
  }

  /** The lines that are shown, the largest first: what cannot be tapped can be chosen here. */
  lineList() {
    const { t } = this.room;
    const lines = this.opened?.lines ?? [];
    const listed = lines
      .flatMap((line, i) => (this.#isHidden(line) ? [] : [{ line, i, size: line.path.length > 2 ? sizeOf(this.#drawn[i]) : 0 }]))
      .sort((a, b) => b.size - a.size)
      .slice(0, LISTED);
    const options = listed.map(({ line, i }, n) => {
      const layer = this.opened?.layers[line.layer ?? -1]?.name;
      return /** @type {[string, string]} */ ([String(i), t('file.nth', { n: String(n + 1), style: layer || this.styleName(line.style) })]);
    });
    return this.room.select('lines', t('file.lines'), [['', t('file.none')], ...options], String(this.line ?? ''), (i) => this.#choose(i));
  }

  async #needMore() {
    const { room } = this;
    this.#more ??= new (await room.fetched(room.ways.more))(this);
    // What was called off meanwhile shows nothing any more.
    if (this.job.isOver) throw new Error('over');
  }

  /** @param {'scale' | 'join' | 'line'} step */
  async to(step) {
    if (step !== 'line') await this.#needMore();
    this.#step = step;
    this.again();
  }

  /** A button that leads to another step. @param {'scale' | 'join' | 'line'} step @param {string} key its words */
  leads(step, key) {
    const { room } = this;
    return room.button(`${step}-again`, room.t(key), () => room.work(() => this.to(step)));
  }

  /** @param {string} [id] */
  want(id) {
    this.#wanted = id;
    this.draw();
  }

  /** @param {string[]} near @param {Place} at */
  tap([line], at) {
    this.#choose(line, at);
  }

  /** @param {string | undefined} name a line's, if there is one @param {Place} [at] where it was tapped */
  #choose(name, at) {
    if (!name || this.#step === 'join') return;
    const line = Number(name);
    this.#forget();
    this.line = line;
    void this.room.work(async () => {
      if (this.#step === 'scale') {
        this.room.board.trace(this.opened?.lines[line].path ?? '');
        this.draw();
        return;
      }
      const { piece } = await this.ask({ do: 'piece', line, at });
      this.room.board.trace(piece.path);
      this.#suggested = piece.suggested;
      if (piece.suggested.length) await this.#take(piece.suggested[0]);
      else this.want('neck');
    });
  }

  #pickedOf() {
    const at = String(ENDS.map((id) => this.at.get(id)));
    return String(this.#suggested.findIndex(({ ends }) => String(ends) === at));
  }

  /** @param {Suggested} suggested */
  async #take({ ends, via }) {
    this.#via = via;
    for (const [i, id] of ENDS.entries()) this.at.set(id, ends[i]);
    this.at.delete('via');
    this.#wanted = undefined;
    await this.#edge();
  }

  #ownEnds() {
    this.at.clear();
    this.#via = undefined;
    this.room.withdraw();
    this.want('neck');
  }

  /** @param {string} id @param {Place} at @param {boolean} isDone */
  move(id, at, isDone) {
    this.at.set(id, at);
    if (!isDone) return;
    if (id === this.#wanted) {
      const order = KNOWN.includes(id) ? KNOWN : ENDS;
      this.want(order.find((one) => !this.at.has(one)));
      this.room.board.focus(id);
    }
    if (!KNOWN.includes(id)) this.#edgeNow();
  }

  /** @param {string} id */
  remove(id) {
    this.at.delete(id);
    this.#edgeNow();
  }

  #edgeNow() {
    if (ENDS.every((id) => this.at.has(id))) void this.room.work(() => this.#edge());
  }

  get #asked() {
    const [neck, centre, via, down] = [...ENDS, 'via', 'down'].map((id) => this.at.get(id));
    return { line: this.line, ends: [neck, centre], via: via ?? this.#via, down, whole: this.#whole };
  }

  /** The edge between the ends, and the same of every size. */
  async #edge() {
    try {
      const { edge } = await this.ask({ do: 'edge', ...this.#asked });
      const { sizes } = await this.ask({ do: 'sizes', ...this.#asked }).catch(() => ({ sizes: { sizes: [] } }));
      this.sizes = sizes.sizes;
      if (this.sizes.length > 1) await this.#needMore();
      this.offer(edge);
    } catch (why) {
      const missing = MISSING[/** @type {{ code?: string }} */ (why).code ?? ''];
      if (!missing || this.at.has(missing)) {
        this.draw();
        throw why;
      }
      this.want(missing);
    }
  }

  /** @param {Edge & { over: string }} edge */
  offer(edge) {
    this.room.board.trace(edge.over);
    this.draw();
    this.room.offer({ edge, sizes: this.sizes.map((size, i) => ({ name: size.name ?? String(i + 1), edge: size.edge })) });
  }

  /** What a reading that does not fit is most like. @param {number} found_mm @param {number} known_mm @returns {Promise<string | undefined>} */
  async lookFor(found_mm, known_mm) {
    return (await this.ask({ do: 'check', found_mm, known_mm })).checked.look_for;
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
