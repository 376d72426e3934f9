// From a photo to an edge: four corners of a sheet whose size is known, the two ends, a place down the fold, and the line between.

import { h, s } from '../common/dom.js';
import { usualPaper } from '../common/region.js';

/** @import { Mark, Place } from './board.js' */
/** @import { Brought, Room, Way } from './room.js' */

/**
 * Sheets that lie about, mm: ISO 216, ASME Y14.1 (8 1/2 by 11 in), ISO/IEC 7810 ID-1 (from memory). Of squares of a mat and of what is one's own the
 * person tells the sides.
 * @type {Record<string, Place>}
 */
const SHEETS = { a4: [210, 297], letter: [215.9, 279.4], card: [85.6, 53.98] };
const OWN = ['mat', 'own'];
/** Points of an edge, in the order in which they are asked for. */
const POINTS = ['neck', 'centre', 'down'];
const CORNERS = ['corner0', 'corner1', 'corner2', 'corner3'];
const OPENING = 20_000; // ms: a photo of many pixels on a slow phone
const TRACING = 10_000;
const MOST_VIA = 20;

/** @implements {Way} */
export class PhotoWay {
  kind = /** @type {const} */ ('photo');
  /** @type {Map<string, Place>} */
  #at = new Map();
  /** @type {'corners' | 'points'} */
  #step = 'corners';
  /** @type {string} */
  #sheet = usualPaper();
  /** Its sides as typed. */
  #sides = ['', ''];
  /** @type {'cut' | 'line'} */
  #edge = 'cut';
  /** @type {string | undefined} */
  #wanted;
  #vias = 0;
  #turn = 0;
  /** The line that was asked for last. @type {Promise<unknown> | undefined} */
  #last;
  /** @type {string[]} */
  #doubts = [];
  #address = '';
  #hasFound = false;

  /** @param {Room} room @param {File} file */
  constructor(room, file) {
    this.room = room;
    this.file = file;
    this.job = room.job(new Worker(new URL('photo-worker.js', import.meta.url), { type: 'module' }));
  }

  async begin() {
    const { opened } = await this.job.ask({ do: 'open', file: this.file }, OPENING);
    const { width_px: width, height_px: height, corners } = opened;
    const image = s('image', { href: await this.#shown(width, height), x: -0.5, y: -0.5, width, height });
    this.room.board.lay([0, 0, width, height], [image]);
    this.#hasFound = Boolean(corners);
    // Where none is seen they are put where a sheet would lie, to be moved.
    const given = corners ?? [0.3, 0.7].flatMap((y) => (y < 0.5 ? [0.3, 0.7] : [0.7, 0.3]).map((x) => [x * width, y * height]));
    for (const [i, id] of CORNERS.entries()) this.#at.set(id, given[i]);
    this.draw();
  }

  end() {
    this.job.end();
    URL.revokeObjectURL(this.#address);
  }

  /** The photo upright and no larger than it is read, as an address. @param {number} width @param {number} height */
  async #shown(width, height) {
    const bitmap = await createImageBitmap(this.file, { imageOrientation: 'from-image' });
    const canvas = h('canvas', { width, height });
    canvas.getContext('2d')?.drawImage(bitmap, 0, 0, width, height);
    bitmap.close();
    const blob = await new Promise((/** @type {(blob: Blob | null) => void} */ resolve) => canvas.toBlob(resolve, 'image/jpeg', 0.92));
    if (blob && !this.job.isOver) this.#address = URL.createObjectURL(blob);
    return this.#address;
  }

  /** Points the other half's edge out in the same photo. */
  again() {
    for (const id of [...this.#at.keys()]) if (!CORNERS.includes(id)) this.#at.delete(id);
    this.#wanted = 'neck';
    this.room.board.trace('');
    this.draw();
  }

  get #isSet() {
    return POINTS.every((id) => this.#at.has(id));
  }

  draw() {
    const { room } = this;
    room.board.marks([...this.#at].filter(([id]) => this.#isShown(id)).map(([id, at]) => this.#mark(id, at)));
    room.board.want(this.#wanted);
    if (this.#wanted) room.say(`photo.put_${this.#wanted.replace(/\d+/, '')}`);
    else if (this.#step === 'corners') room.say(this.#hasFound ? 'photo.corners_found' : 'photo.corners_put');
    room.controls(this.#step === 'corners' ? this.#cornerControls() : this.#pointControls());
    room.board.element.dataset.step = this.#wanted ?? this.#step;
  }

  /** @param {string} id */
  #isShown(id) {
    return this.#step === 'corners' || !CORNERS.includes(id);
  }

  /** @param {string} id @param {Place} at @returns {Mark} */
  #mark(id, at) {
    const [, kind, n] = /^(\D+)(\d*)$/.exec(id) ?? [];
    return { id, at, name: this.room.t(`point.${kind}`, { n: String(Number(n) + 1) }), isVia: kind === 'via' };
  }

  #cornerControls() {
    const { t, reckoner, unit } = this.room;
    const sheets = [...Object.keys(SHEETS), ...OWN];
    const sides = this.#sides.map((text, i) =>
      this.room.field(`side${i}`, t(`photo.side.${i}`), text, (typed) => {
        this.#sides[i] = typed;
      }),
    );
    return [
      this.room.select(
        'sheet',
        t('photo.sheet'),
        sheets.map((name) => [name, t(`photo.sheets.${name}`)]),
        this.#sheet,
        (name) => {
          this.#sheet = name;
          this.draw();
        },
      ),
      OWN.includes(this.#sheet) && h('p', { class: 'hint', text: t(`photo.sides_${this.#sheet}`) }),
      OWN.includes(this.#sheet) && h('div', { class: 'row' }, sides),
      this.#edgeChoice(),
      this.room.button('corners-right', t('photo.corners_right'), () => this.#setSheet(this.#sidesOf(reckoner, unit)), true),
    ];
  }

  /** @param {Room['reckoner']} reckoner @param {Room['unit']} unit */
  #sidesOf(reckoner, unit) {
    return SHEETS[this.#sheet] ?? this.#sides.map((text) => reckoner.parseLength(text, unit).mm ?? 0);
  }

  #edgeChoice() {
    const { t } = this.room;
    return this.room.choice(
      'edge',
      t('photo.edge'),
      [
        ['cut', t('photo.edges.cut')],
        ['line', t('photo.edges.line')],
      ],
      this.#edge,
      (edge) => {
        this.#edge = edge === 'line' ? 'line' : 'cut';
        if (this.#isSet) void this.room.work(() => this.#trace());
      },
    );
  }

  #pointControls() {
    const { t } = this.room;
    return [
      this.#wanted && this.room.button('put', t('put_here'), () => this.move(this.#wanted ?? '', this.room.board.middle, true)),
      !this.#wanted && h('p', { class: 'hint', text: t('photo.pull') }),
      !this.#wanted && this.#vias < MOST_VIA && this.room.button('pull', t('photo.add_via'), () => this.#want(`via${this.#vias}`)),
      this.#edgeChoice(),
      this.room.button('corners-again', t('photo.corners_again'), () => {
        this.#step = 'corners';
        this.#wanted = undefined;
        this.room.withdraw();
        this.draw();
      }),
    ];
  }

  /** @param {string} [id] */
  #want(id) {
    this.#wanted = id;
    this.draw();
  }

  /** @param {Place} sides */
  async #setSheet([width_mm, height_mm]) {
    const corners = CORNERS.map((id) => this.#at.get(id));
    await this.room.work(async () => {
      const { set } = await this.job.ask({ do: 'rectangle', corners, width_mm, height_mm }, TRACING);
      for (const [i, id] of CORNERS.entries()) this.#at.set(id, set.corners[i]);
      this.#doubts = set.doubts;
      this.#step = 'points';
      this.#want(POINTS.find((id) => !this.#at.has(id)));
      if (this.#isSet) await this.#trace();
    });
  }

  /** @param {string} id @param {Place} at @param {boolean} isDone */
  async move(id, at, isDone) {
    this.#at.set(id, at);
    if (!isDone) return;
    if (CORNERS.includes(id)) return;
    const isNew = id === this.#wanted;
    await this.room.work(async () => {
      if (isNew) await this.#settle(id, at);
      if (this.#isSet) await this.#trace();
    });
    if (isNew) this.room.board.focus(id);
  }

  /** A point that was just set goes to the corner or edge that was meant. @param {string} id @param {Place} at */
  async #settle(id, at) {
    if (id !== 'down') {
      const { snapped } = await this.job.ask({ do: 'snap', at }, TRACING).catch(() => ({ snapped: at }));
      this.#at.set(id, snapped);
    }
    if (id.startsWith('via')) this.#vias += 1;
    this.#want(POINTS.find((one) => !this.#at.has(one)));
  }

  /** @param {string} id */
  remove(id) {
    this.#at.delete(id);
    this.draw();
    void this.room.work(() => this.#trace());
  }

  tap() {}

  async #trace() {
    const turn = ++this.#turn;
    // While a point is walked by keys, only the last of its lines is asked for.
    await this.#last;
    if (turn !== this.#turn) return;
    const place = (/** @type {string} */ id) => this.#at.get(id);
    const via = [...this.#at].filter(([id]) => id.startsWith('via')).map(([, at]) => at);
    const message = { do: 'trace', ends: [place('neck'), place('centre')], down: place('down'), via: this.#inOrder(via), edge: this.#edge };
    const asked = this.job.ask(message, TRACING);
    this.#last = asked.catch(() => {});
    const { edge } = await asked;
    // Another point was moved meanwhile, and its line is on its way.
    if (turn !== this.#turn) return;
    this.#line = edge.over_photo;
    this.room.board.trace(`M${edge.over_photo.join('L')}`);
    this.draw();
    this.room.offer({
      edge: { ...edge, doubts: [...new Set([...this.#doubts, ...edge.doubts])] },
      readingsAt: this.#edge === 'cut' ? 'cut_edge' : undefined,
    });
  }

  /** The line as it was found last, from the neck point on. @type {Place[]} */
  #line = [];

  /** Places to pull to, in the order of the line. @param {Place[]} places */
  #inOrder(places) {
    /** @param {Place} place */
    const along = ([x, y]) => {
      const off = this.#line.map(([u, v]) => (u - x) ** 2 + (v - y) ** 2);
      return off.indexOf(Math.min(...off));
    };
    return places
      .map((place) => ({ place, at: along(place) }))
      .sort((a, b) => a.at - b.at)
      .map(({ place }) => place);
  }
}
