// Pieces at true size on a wall or a table, by a projector: set true by the ends of a known length, then moved, turned and mirrored
// as it suits. All of it lies over the page, whose other parts rest meanwhile.

import { choice, make, textField } from '../common/controls.js';
import { fill, h, s } from '../common/dom.js';
import { isModified } from '../common/keys.js';
import { known } from '../common/known.js';
import { laterStyles } from '../common/later-styles.js';
import { recall, remember } from '../common/settings.js';
import { differsBy, readAgain, scaleOf, written } from './projector-scale.js';

/** @import { SheetsPanel } from './sheets-panel.js' */
/** @import { Piece } from './sheets.js' */
/** @import { Knowns, Scale, Way } from './projector-scale.js' */
/** @import { Values } from '../common/words.js' */

/** @typedef {[x: number, y: number]} Point px from the view's upper left corner */

/** The name that the known lengths are kept by on this device. */
const KEPT = 'projector';

/** The length that is asked for first, and that of the bars to check by, mm: by unit. */
const FIRST_MM = { mm: 500, cm: 500, in: 20 * 25.4 };
const BAR_MM = { mm: 100, cm: 100, in: 4 * 25.4 };

/** From here on width and height are said to differ, percent: 2 mm in 400. Our judgement. */
const DIFFER_PERCENT = 0.5;

/** How far a pointer may stray in a tap, and how near to an end it takes hold of it, px. */
const TAP_PX = 6;
const HOLD_PX = 24;

/** How far a key moves, px: an end, the piece; and so many times as far with Shift. */
const STEP_PX = { end: 1, piece: 10 };
const FAR = 10;

/** The least height of letters, px: a projector may have less than a pixel to a millimetre. */
const LETTERS_PX = 12;

/** Where the bars' corner stands, from the left and from the foot, px. */
const BAR_AT = [24, 24];

/** @type {Record<string, Point>} */
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/** @param {Element} text */
const isBold = (text) => text.hasAttribute('font-weight');

/** @param {DOMRect} a @param {DOMRect} b */
const overlap = (a, b) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;

/** Opens the view; the rest of the page comes back with its end. @param {SheetsPanel} panel @param {Piece[]} pieces */
export async function openProjector(panel, pieces) {
  await laterStyles();
  new Projector(panel, pieces).open();
}

class Projector {
  #stop = new AbortController();
  /** What was there before, and has it back. @type {Element | null} */
  #returnTo = document.activeElement;
  /** @type {Element[]} */
  #resting = [];
  /** @type {Knowns} */
  #knowns;
  #changed;
  /** Setting it true, or showing the piece. */
  #setting = true;
  /** @type {Way} */
  #way = 'across';
  /** @type {[Point, Point]} */
  #ends = [
    [0, 0],
    [0, 0],
  ];
  /** How many ends have been tapped since the length or the way was chosen. */
  #tapped = 0;
  /** Whether what is known was measured before, when the projector may have stood elsewhere. */
  #isOld = true;
  #mm;
  #light = false;
  #mirrored = false;
  #quarters = 0;
  /** Where the piece's middle stands. @type {Point} */
  #at = [0, 0];
  #bare = false;

  /** @param {SheetsPanel} panel @param {Piece[]} pieces */
  constructor(panel, pieces) {
    this.panel = panel;
    this.pieces = pieces;
    this.piece = pieces[0];
    const { knowns, changed } = readAgain(recall(KEPT));
    this.#knowns = knowns;
    this.#changed = changed;
    this.#setting = !('scale' in scaleOf(knowns));
    this.#mm = FIRST_MM[panel.state.unit];
    this.stage = s('svg', { class: 'beam', tabindex: '0', role: 'group' });
    this.controls = make('div', { class: 'beam-controls' });
    this.root = make('div', { class: 'projector', role: 'dialog', 'aria-modal': 'true' }, this.stage, this.controls);
  }

  /** @param {string} key @param {Values} [values] */
  t(key, values) {
    return this.panel.words.t(`sheets.projector.${key}`, values);
  }

  open() {
    const on = { signal: this.#stop.signal };
    this.root.setAttribute('aria-label', this.t('heading'));
    this.#resting = [...document.body.children].filter((one) => !one.hasAttribute('inert'));
    for (const one of this.#resting) one.toggleAttribute('inert', true);
    document.body.append(this.root);
    document.documentElement.classList.add('projecting');
    this.#ends = this.#startEnds();
    this.#at = [this.#size()[0] / 2, this.#size()[1] / 2];
    this.root.addEventListener('keydown', (event) => this.#key(event), on);
    this.stage.addEventListener('pointerdown', (event) => this.#press(event), on);
    for (const event of ['resize', 'fullscreenchange']) {
      addEventListener(event, () => this.#sized(), { ...on, capture: true });
    }
    visualViewport?.addEventListener('resize', () => this.#sized(), on);
    this.#watchZoom();
    this.#build();
    /** @type {HTMLElement | null} */ (this.controls.querySelector('button'))?.focus();
  }

  /** A window that is moved to a screen of other dots keeps its size, and no other event tells of it. */
  #watchZoom() {
    const dots = matchMedia(`(resolution: ${devicePixelRatio}dppx)`);
    const heard = () => {
      this.#watchZoom();
      this.#sized();
    };
    dots.addEventListener('change', heard, { signal: this.#stop.signal, once: true });
  }

  close() {
    this.#stop.abort();
    if (document.fullscreenElement) void document.exitFullscreen();
    this.root.remove();
    document.documentElement.classList.remove('projecting');
    for (const one of this.#resting) one.toggleAttribute('inert', false);
    if (this.#returnTo instanceof HTMLElement) this.#returnTo.focus();
  }

  /** @returns {Point} */
  #size() {
    return [this.root.clientWidth, this.root.clientHeight];
  }

  /** The scale of the known lengths, where there are any. @returns {Scale | undefined} */
  get scale() {
    const found = scaleOf(this.#knowns);
    return 'scale' in found ? found.scale : undefined;
  }

  /** Ends of a length along the way that is set, where nobody has put them yet. @returns {[Point, Point]} */
  #startEnds() {
    const [width, height] = this.#size();
    const ends = [0.25, 0.75];
    const at = (/** @type {number} */ share) =>
      /** @type {Point} */ (this.#way === 'across' ? [share * width, height / 2] : [width / 2, share * height]);
    return [at(ends[0]), at(ends[1])];
  }

  /** A screen of another size, or another zoom, is another scale: it is asked for again. */
  #sized() {
    const { changed } = readAgain(recall(KEPT));
    if (changed && Object.keys(this.#knowns).length) {
      this.#knowns = {};
      this.#changed = true;
      this.#setting = true;
      this.#ends = this.#startEnds();
      this.#build();
    } else this.#draw();
  }

  /** Controls and drawing anew; the focus stays on the control that has it, by its name. */
  #build() {
    const focused = document.activeElement instanceof HTMLElement && this.controls.contains(document.activeElement);
    const name = focused ? /** @type {HTMLElement} */ (document.activeElement).dataset.act : undefined;
    this.root.classList.toggle('light-on-dark', this.#light);
    this.root.classList.toggle('bare', this.#bare);
    fill(this.controls, this.#bare ? this.#act('controls') : this.#setting ? this.#settingControls() : this.#showingControls());
    this.#draw();
    const again = name && this.controls.querySelector(`[data-act="${name}"]`);
    if (focused) /** @type {HTMLElement | null} */ (again || this.controls.querySelector('button'))?.focus();
  }

  /** A button that does one thing, by its name among the words. @param {keyof typeof DOES} name @param {{ pressed?: boolean, class?: string, disabled?: boolean }} [how] */
  #act(name, { pressed, ...how } = {}) {
    const act = () => {
      DOES[name](this);
      if (this.root.isConnected) this.#build();
    };
    return make('button', {
      type: 'button',
      'data-act': name,
      'aria-pressed': pressed === undefined ? undefined : String(pressed),
      text: this.t(name),
      on: { click: act },
      ...how,
    });
  }

  #settingControls() {
    const { words, state, reckoner } = this.panel;
    const field = textField({
      label: this.t('length'),
      unit: state.unit,
      value: words.read(this.#mm, state.unit),
      inputmode: 'decimal',
      on: {
        input: () => {
          const { mm } = reckoner.parseLength(field.input.value, state.unit);
          const fits = mm !== undefined && mm > 0;
          field.setError(fits ? '' : this.t('no_length'));
          if (!fits) return;
          this.#mm = mm;
          this.#measure();
        },
      },
    });
    const ways = choice({
      legend: this.t('way'),
      options: /** @type {const} */ (['across', 'down']).map((way) => [way, this.t(way)]),
      value: this.#way,
      onChange: (way) => {
        this.#way = way;
        this.#tapped = 0;
        this.#ends = this.#startEnds();
        this.#draw();
      },
    });
    this.status = make('p', { role: 'status' });
    this.show = this.#act('show', { class: 'primary' });
    return [
      h('h2', { text: this.t('heading') }),
      this.#changed && h('p', { class: 'warning', text: this.t('changed') }),
      h('p', { text: this.t('set') }),
      h('p', { class: 'hint', text: this.t('set_keys') }),
      ways.group,
      field.field,
      this.status,
      h('p', { class: 'buttons' }, this.show, this.#act('full'), this.#act('close')),
    ];
  }

  #showingControls() {
    const pick = make('select', { id: 'projector-piece', 'data-act': 'piece' });
    for (const piece of this.pieces) pick.append(make('option', { value: piece.name, text: piece.title }));
    pick.value = this.piece.name;
    pick.addEventListener('change', () => {
      this.piece = this.pieces[pick.selectedIndex];
      this.#draw();
    });
    this.status = make('p', { role: 'status' });
    return [
      this.pieces.length > 1 && h('p', { class: 'pick-piece' }, h('label', { for: 'projector-piece', text: this.t('piece') }), ' ', pick),
      h('p', { class: 'hint', text: this.t('move') }),
      this.status,
      h(
        'p',
        { class: 'buttons' },
        this.#act('turn'),
        this.#act('mirror', { pressed: this.#mirrored }),
        this.#act('light', { pressed: this.#light }),
        this.#act('middle'),
        this.#act('full'),
        this.#act('hide'),
        this.#act('set_again'),
        this.#act('close'),
      ),
    ];
  }

  /** What the length between the ends now says. */
  #measure() {
    const [[ax, ay], [bx, by]] = this.#ends;
    if (Math.hypot(bx - ax, by - ay) < 1) return;
    this.#tapped = 2;
    this.#changed = false;
    // A new length across is of where the projector stands now; one down from before would not go with it.
    const others = this.#isOld && this.#way === 'across' ? {} : this.#knowns;
    this.#isOld = false;
    this.#knowns = { ...others, [this.#way]: { dx: bx - ax, dy: by - ay, mm: this.#mm } };
    remember(KEPT, written(this.#knowns));
    this.#draw();
  }

  /** How true it is so far, in words. */
  #standing() {
    const found = scaleOf(this.#knowns);
    if ('problem' in found) return this.t(found.problem);
    const ways = Object.keys(this.#knowns);
    if (ways.length < 2) return this.t('one_way', { way: this.t(ways.includes('across') ? 'down' : 'across') });
    const percent = differsBy(found.scale);
    return percent > DIFFER_PERCENT ? this.t('differ', { percent: this.panel.percent(percent) }) : this.t('true');
  }

  #draw() {
    const [width, height] = this.#size();
    this.stage.setAttribute('viewBox', `0 0 ${width} ${height}`);
    this.stage.setAttribute('aria-label', this.#setting ? this.t('set') : this.piece.title);
    if (this.status) this.status.textContent = this.#standing();
    if (this.show) this.show.disabled = !this.scale;
    const focused = this.stage.querySelector(':focus')?.getAttribute('data-end');
    fill(this.stage, this.scale && this.#bars(this.scale), this.#setting ? this.#crosses() : this.scale && this.#drawn(this.scale));
    this.#clearWords();
    if (focused) /** @type {SVGElement | null} */ (this.stage.querySelector(`[data-end="${focused}"]`))?.focus();
  }

  /** Letters that are made larger than the piece's own may run over others: then the piece's name stays, and of the rest what has room. */
  #clearWords() {
    /** @type {DOMRect[]} */
    const taken = [];
    /** Where lines begin of which one had no room: half a sentence says nothing. */
    const broken = new Set();
    const all = [...this.stage.querySelectorAll('.beam-larger')];
    for (const text of [...all.filter(isBold), ...all.filter((one) => !isBold(one))]) {
      const box = text.getBoundingClientRect();
      if (!taken.some((other) => overlap(box, other))) taken.push(box);
      else {
        text.remove();
        broken.add(text.getAttribute('x'));
      }
    }
    for (const text of all) if (!isBold(text) && broken.has(text.getAttribute('x'))) text.remove();
  }

  /** The ends of the known length, each to be moved by itself. */
  #crosses() {
    const [a, b] = this.#ends;
    return [
      s('line', { class: 'beam-length', x1: a[0], y1: a[1], x2: b[0], y2: b[1] }),
      this.#ends.map(([x, y], i) =>
        s(
          'g',
          {
            class: 'beam-end',
            'data-end': i,
            tabindex: '0',
            role: 'slider',
            'aria-label': this.t(i ? 'end_second' : 'end_first'),
            'aria-valuenow': Math.round(this.#way === 'across' ? x : y),
            'aria-valuemin': 0,
            'aria-valuemax': Math.round(this.#size()[this.#way === 'across' ? 0 : 1]),
            'aria-valuetext': this.t('end_at', { x: this.panel.words.number(x), y: this.panel.words.number(y) }),
            transform: `translate(${x} ${y})`,
          },
          s('circle', { r: 22 }),
          s('path', { d: 'M-22 0H-3M3 0H22M0-22V-3M0 3V22' }),
        ),
      ),
    ];
  }

  /** A known length across and one up, to hold a rule against. @param {Scale} scale */
  #bars([across, down]) {
    const { unit } = this.panel.state;
    const mm = BAR_MM[unit];
    const [left, foot] = [BAR_AT[0], this.#size()[1] - BAR_AT[1]];
    const [right, top] = [left + mm * across, foot - mm * down];
    const text = this.t('bar', { length: this.panel.length(mm) });
    return s(
      'g',
      { class: 'beam-bars' },
      s('path', { class: 'beam-across', d: `M${left} ${foot}H${right}` }),
      s('path', { class: 'beam-down', d: `M${left} ${foot}V${top}` }),
      s('path', { class: 'beam-ticks', d: `M${right} ${foot - 6}v12M${left - 6} ${top}h12` }),
      s('text', { x: left + 8, y: foot - 8 }, text),
    );
  }

  /** The piece: millimetres on the table, its middle where it was moved to. @param {Scale} scale */
  #drawn([across, down]) {
    const file = new DOMParser().parseFromString(this.piece.file, 'image/svg+xml').documentElement;
    const [x, y, width, height] = (file.getAttribute('viewBox') ?? '').split(' ').map(Number);
    const turn = `rotate(${90 * this.#quarters})${this.#mirrored ? ' scale(-1 1)' : ''}`;
    const moved = `translate(${this.#at.join(' ')}) scale(${across} ${down}) ${turn} translate(${-(x + width / 2)} ${-(y + height / 2)})`;
    const piece = s('g', { class: 'beam-piece', transform: moved });
    for (const group of file.querySelectorAll('g')) {
      const own = s('g', { class: `beam-${group.id}` });
      for (const one of group.children) {
        const copy = document.importNode(one, true);
        copy.setAttribute('class', `beam-${one.getAttribute('class') ?? 'text'}`);
        const least = LETTERS_PX / Math.min(across, down);
        if (Number(copy.getAttribute('font-size') ?? least) < least) {
          copy.setAttribute('font-size', String(least));
          copy.classList.add('beam-larger');
        }
        own.append(copy);
      }
      piece.append(own);
    }
    return piece;
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    // What lies beneath rests.
    event.stopPropagation();
    if (event.key === 'Escape') return this.close();
    if (event.key === 'Tab') return this.#keepInside(event);
    const way = known(ARROWS, event.key);
    const target = /** @type {Element} */ (event.target);
    if (!way || event.ctrlKey || event.altKey || event.metaKey || target.matches('input, select')) return;
    event.preventDefault();
    const end = target.getAttribute('data-end');
    const far = event.shiftKey ? FAR : 1;
    if (end !== null) this.#moveEnd(Number(end), way, STEP_PX.end * far);
    else if (!this.#setting) this.#move(way, STEP_PX.piece * far);
  }

  /** From the last control the next is the first. @param {KeyboardEvent} event */
  #keepInside(event) {
    if (isModified(event)) return;
    const all = /** @type {NodeListOf<HTMLElement>} */ (
      this.root.querySelectorAll('button:not(:disabled), select, input:not([type=radio]), input:checked, [tabindex="0"]')
    );
    const [first, last] = [all[0], all[all.length - 1]];
    const [from, to] = event.shiftKey ? [first, last] : [last, first];
    if (document.activeElement !== from) return;
    event.preventDefault();
    to.focus();
  }

  /** @param {number} which @param {Point} way @param {number} px */
  #moveEnd(which, way, px) {
    this.#ends[which] = [this.#ends[which][0] + way[0] * px, this.#ends[which][1] + way[1] * px];
    this.#measure();
  }

  /** @param {Point} way @param {number} px */
  #move(way, px) {
    this.#at = [this.#at[0] + way[0] * px, this.#at[1] + way[1] * px];
    this.#draw();
  }

  /** A press on the picture: a tap puts an end there, a drag moves the end that it took hold of, or the piece. @param {PointerEvent} press */
  #press(press) {
    if (!press.isPrimary || press.button) return;
    const place = (/** @type {PointerEvent} */ event) => /** @type {Point} */ ([event.clientX, event.clientY]);
    let last = place(press);
    let strayed = false;
    const held = this.#setting ? this.#ends.findIndex(([x, y]) => Math.hypot(x - last[0], y - last[1]) < HOLD_PX) : -1;
    const lifted = new AbortController();
    const on = { signal: AbortSignal.any([lifted.signal, this.#stop.signal]) };
    this.stage.setPointerCapture(press.pointerId);
    const move = (/** @type {PointerEvent} */ event) => {
      const now = place(event);
      strayed ||= Math.hypot(now[0] - press.clientX, now[1] - press.clientY) > TAP_PX;
      if (!strayed) return;
      /** @type {Point} */
      const by = [now[0] - last[0], now[1] - last[1]];
      last = now;
      if (held >= 0) this.#moveEnd(held, by, 1);
      else if (!this.#setting) this.#move(by, 1);
    };
    const lift = (/** @type {PointerEvent} */ event) => {
      lifted.abort();
      if (!strayed && this.#setting && event.type === 'pointerup') this.#tap(place(event));
    };
    this.stage.addEventListener('pointermove', move, on);
    for (const event of /** @type {const} */ (['pointerup', 'pointercancel'])) this.stage.addEventListener(event, lift, on);
  }

  /** The first tap is one end, the second the other. @param {Point} at */
  #tap(at) {
    const which = this.#tapped === 1 ? 1 : 0;
    this.#ends[which] = at;
    if (which) return this.#measure();
    this.#tapped = 1;
    this.#draw();
  }

  /** @param {Partial<{ setting: boolean, bare: boolean }>} to */
  become({ setting = this.#setting, bare = this.#bare }) {
    if (setting && !this.#setting) {
      this.#tapped = 0;
      this.#ends = this.#startEnds();
      this.#isOld = true;
    }
    this.#setting = setting;
    this.#bare = bare;
  }

  turn() {
    this.#quarters = (this.#quarters + 1) % 4;
  }

  mirror() {
    this.#mirrored = !this.#mirrored;
  }

  light() {
    this.#light = !this.#light;
  }

  middle() {
    this.#at = [this.#size()[0] / 2, this.#size()[1] / 2];
  }

  full() {
    const change = document.fullscreenElement ? document.exitFullscreen() : this.root.requestFullscreen();
    // A browser that does not let it, as in a frame, leaves the view as large as its window.
    change.catch(() => {});
  }
}

/** What each button does. @satisfies {Record<string, (view: Projector) => void>} */
const DOES = {
  show: (/** @type {Projector} */ view) => view.become({ setting: false }),
  set_again: (/** @type {Projector} */ view) => view.become({ setting: true }),
  hide: (/** @type {Projector} */ view) => view.become({ bare: true }),
  controls: (/** @type {Projector} */ view) => view.become({ bare: false }),
  turn: (/** @type {Projector} */ view) => view.turn(),
  mirror: (/** @type {Projector} */ view) => view.mirror(),
  light: (/** @type {Projector} */ view) => view.light(),
  middle: (/** @type {Projector} */ view) => view.middle(),
  full: (/** @type {Projector} */ view) => view.full(),
  close: (/** @type {Projector} */ view) => view.close(),
};
