// What only some files need: how large their lines are and how their pages lie, where they do not tell; which layers and kinds of line
// are shown, and which of several sizes is taken.

import { h } from '../common/dom.js';

/** @import { FilesWay, Size } from './files-way.js' */

export class FilesMore {
  /** What has been typed. @type {Record<string, string>} */
  #texts = { known: '', columns: '1', over0: '', over1: '' };
  /** Pages that stay out. @type {Set<number>} */
  #without = new Set();

  /** @param {FilesWay} way */
  constructor(way) {
    this.way = way;
    this.room = way.room;
  }

  /** Asks for a known length. */
  scale() {
    const { room, way } = this;
    const { t } = room;
    return [
      way.put(),
      this.#typed('known', t('file.known')),
      h(
        'div',
        { class: 'buttons' },
        room.button('scale', t('file.set_scale'), () => this.#setScale(), true),
        room.button('between', t('file.between'), () => way.want('from')),
        Boolean(way.opened?.mm_per_unit) && way.leads('line', 'file.keep_scale'),
      ),
      way.lineList(),
    ];
  }

  /** Asks how the pages lie. */
  join() {
    const { room, way } = this;
    const { t } = room;
    return [
      this.#typed('columns', t('file.columns'), false),
      h('div', { class: 'row' }, this.#typed('over0', t('file.over_x')), this.#typed('over1', t('file.over_y'))),
      this.#ticks(
        'page',
        t('file.pages'),
        (way.opened?.pages ?? []).map((_, i) => [i, t('file.page', { n: String(i + 1) })]),
        this.#without,
        () => {},
      ),
      h(
        'div',
        { class: 'buttons' },
        room.button('join', t('file.join_now'), () => this.#join(), true),
        room.button('line-again', t('file.joined'), () => room.work(() => way.to(way.opened?.mm_per_unit ? 'line' : 'scale'))),
      ),
    ];
  }

  /** @param {string} name @param {string} label @param {boolean} [isLength] */
  #typed(name, label, isLength) {
    const act = (/** @type {string} */ text) => {
      this.#texts[name] = text;
    };
    return this.room.field(name, label, this.#texts[name], act, isLength);
  }

  /** Offers the layers and kinds of line that can be hidden. */
  shown() {
    const { room, way } = this;
    const { layers = [], styles = [] } = way.opened ?? {};
    /** @param {'layer' | 'style'} id @param {string[]} names */
    const ticks = (id, names) =>
      names.length > 1 &&
      this.#ticks(
        id,
        room.t(`file.${id}s`),
        names.map((name, i) => [i, name]),
        way.hidden[id],
        () => way.show(),
      );
    return [
      ticks(
        'layer',
        layers.map(({ name }) => name),
      ),
      ticks(
        'style',
        styles.map((_, i) => way.styleName(i)),
      ),
    ];
  }

  /** Offers the sizes in which the edge was found. */
  sizes() {
    const { room, way } = this;
    const { sizes } = way;
    return room.select(
      'sizes',
      room.t('file.sizes'),
      sizes.map((size, i) => [String(i), this.#nameOf(size, i)]),
      String(sizes.findIndex(({ pointed }) => pointed)),
      (i) => this.#useSize(Number(i)),
    );
  }

  /** @param {Size} size @param {number} i */
  #nameOf({ name, style, edge }, i) {
    return `${name ?? this.room.t('file.nth', { n: String(i + 1), style: this.way.styleName(style) })}: ${this.room.length(edge.length_mm)}`;
  }

  /** Takes another size, with what was pointed out on one. @param {number} at */
  #useSize(at) {
    const { way } = this;
    way.sizes = way.sizes.map((size, i) => ({ ...size, pointed: i === at }));
    way.offer(way.sizes[at].edge);
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

  /** A length as it was typed, mm. @param {string} name */
  #mm(name) {
    const { reckoner, unit } = this.room;
    return reckoner.parseLength(this.#texts[name], unit).mm ?? 0;
  }

  #setScale() {
    const { room, way } = this;
    const [from, to] = ['from', 'to'].map((id) => way.at.get(id));
    void room.work(async () => {
      const { scaled } = await way.ask({ do: 'scale', mm: this.#mm('known'), ...(from && to ? { from, to } : { line: way.line }) });
      if (way.opened) way.opened.mm_per_unit = scaled.mm_per_unit;
      await way.to('line');
    });
  }

  #join() {
    const { room, way } = this;
    void room.work(async () => {
      const { opened } = await way.ask({
        do: 'join',
        columns: Number.parseInt(this.#texts.columns, 10) || 1,
        overlap_x_mm: this.#mm('over0'),
        overlap_y_mm: this.#mm('over1'),
        without: [...this.#without],
      });
      way.lay(opened);
      way.draw();
    });
  }
}
