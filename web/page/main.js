// Starts the page and hands each change on: form and drawing to the state, state to the ticket, the answers and the rest.

import { answerJobs } from './plan/answers.js';
import { showCures } from './plan/cures.js';
import { byId, fill, h, settle } from './common/dom.js';
import { createDrawing } from './drawing/drawing.js';
import { knowingExample, loadFirstPlan } from './plan/first-plan.js';
import { Steps } from './form/steps.js';
import { fetched } from './common/fetched.js';
import { lastWork } from './keep/last-work.js';
import { createHeldHeight } from './common/held-height.js';
import { isForPage, isInText } from './common/keys.js';
import { systemOf } from './common/lengths.js';
import { firstLanguage } from './common/languages.js';
import { say } from './plan/live.js';
import { showNotices } from './plan/notices.js';
import { parts } from './parts.js';
import { mountPanels } from './common/panels.js';
import { isNarrow, unfoldInPrint } from './common/narrow.js';
import { loadReckoner, reckoner as core } from './plan/reckoner.js';
import { firstUnit, remember } from './common/settings.js';
import { createState, same } from './common/state.js';
import { createRounds } from './common/rounds.js';
import { putStaticWords } from './common/static-words.js';
import { Bar } from './plan/bar.js';
import { apart, doubts } from './plan/doubts.js';
import { followFigure, headline, showTicket, verdicts } from './plan/ticket.js';
import { showToolbar } from './common/toolbar.js';
import { createTurns, pause } from './common/turns.js';
import { loadWords, onWanted, wholeWords } from './common/words.js';

/** @import { Plan } from './types/plan.d.ts' */
/** @import { Part } from './common/panels.js' */
/** @import { Drawing, Edit } from './drawing/drawing.js' */
/** @import { Readings } from './form/ruler.js' */
/** @import { Work } from './keep/last-work.js' */
/** @import { Unit } from './plan/reckoner.js' */
/** @import { Words } from './common/words.js' */

/** Parts that can do nothing without the core. */
const WORKED = ['tools', 'drawing', 'stage-tools'];
/** What tells that a person has begun. */
const EARLY = ['input', 'change', 'click'];
/** What a person's hand does before anything else. */
const BEGINS = ['pointerdown', 'keydown', 'focusin'];

/** The page at work: what it holds and how it is shown. */
class Page {
  /** @type {'whole' | 'half'} */
  #view = 'whole';
  /** @type {Part} */
  #panels = { refresh() {} };
  #hasSpoken = false;
  /** The language chosen last, whose words may be on their way. */
  #language = '';
  #isTurning = false;
  /** Words on their way that were to be said. @type {Promise<void> | undefined} */
  #anew;
  /** What follows a dragged line in turns. @type {ReturnType<typeof createRounds> | undefined} */
  #rounds;
  #ticketPlace = createHeldHeight(byId('ticket-place'));
  /** @type {Bar | undefined} */
  #bar;
  /** @type {HTMLElement | null} */
  #pressed = null;
  /** @type {ReturnType<typeof import('./plan/class-view.js').createClassView> | null} */
  #classView = null;
  /** @type {ReturnType<typeof import('./plan/compare.js').createCompare> | null} */
  #compare = null;
  /** @type {ReturnType<typeof import('./form/ruler.js').createRuler> | null} */
  #ruler = null;
  /** There once it has been shown. @type {Drawing | undefined} */
  drawing;
  /** @param {Event} event */
  #early = (event) => this.#hearEarly(event);

  /** @param {Words} words @param {{ unit: Unit, begun: Work | null, plan?: Plan }} opened the last work, or the example's plan */
  constructor(words, { unit, begun, plan }) {
    this.words = words;
    const example = core.example(unit);
    this.exampleTitle = example.title;
    this.reckoner = knowingExample(core, example, plan);
    const { reckoner } = this;
    this.begun = begun;
    this.state = createState(begun?.brief ?? example, { reckoner, unit, language: words.language });
    this.form = new Steps(byId('brief'), {
      state: this.state,
      reckoner,
      words,
      tools: { ruler: (knit) => this.#rulerButton(knit), ...(byId('bring') && { bring: (half) => this.#bringButton(half) }) },
    });
    this.turns = createTurns((isBusy) => {
      this.#isTurning = isBusy;
      this.#showBusy();
    });
  }

  /** Shows the first plan, what the eye goes to first: a phone paints between one part and the next. */
  async show() {
    putStaticWords(this.words);
    byId('about').toggleAttribute('open', !isNarrow());
    this.#showToolbar();
    // Seen from the first, of use once the core is there.
    for (const part of WORKED) byId(part).inert = true;
    for (const name of EARLY) byId('main').addEventListener(name, this.#early, true);
    showTicket(byId('ticket'), this.#what);
    byId('example-note').hidden = !this.#isExample;
    await pause();
    this.drawing = createDrawing(byId('drawing'), {
      words: this.words,
      unit: this.state.unit,
      onEdit: (edit) => this.#edited(edit),
      parts: {
        get now() {
          return parts.now;
        },
        get: () => fetched(byId('drawing'), () => parts.get(), { key: 'offline.missing', words: () => this.words }),
      },
    });
    this.#showDrawing();
    await pause();
    await this.form.show();
    this.#showStageTools();
  }

  /** Takes up what the person does from now on. */
  begin() {
    for (const part of [...WORKED, 'brief']) byId(part).inert = false;
    for (const name of EARLY) byId('main').removeEventListener(name, this.#early, true);
    document.documentElement.classList.remove('is-unanswered');
    this.state.addEventListener('plan', () => this.#showPlan());
    this.state.addEventListener('drag', () => this.#followDrag());
    this.state.addEventListener('settings', () => this.#settings());
    this.state.addEventListener('step', () => this.#hush());
    this.form.addEventListener('problems', () => this.#showNotices());
    byId('start-own').addEventListener('click', () => this.form.startOwn());
    byId('bring')?.addEventListener('click', () => void this.openRoom(byId('stage')));
    byId('working').addEventListener('toggle', () => this.#showWorking());
    addEventListener('keydown', (event) => this.#key(event));
    for (const name of ['dragover', 'drop', 'paste']) addEventListener(name, (event) => this.#given(event));
    addEventListener('beforeprint', () => this.turns.finish());
    unfoldInPrint('.card.fold');
    this.#bar = new Bar(this.form);
    const jobs = [...(this.drawing?.following ?? []), () => showTicket(byId('ticket'), this.#what), () => this.#showBar()];
    this.#rounds = createRounds(jobs, { settle: () => this.#showDrawing(), isMoving: () => this.drawing?.isMoving ?? false });
    onWanted(() => this.#sayAnew());
    this.form.listen();
    if (this.begun?.unplanned) this.form.resume(this.begun.unplanned);
    this.#showPlan();
    this.#showNotices();
    this.#pressed?.click();
  }

  /**
   * What a person does while nothing can be worked out yet: the example's figures, which are no answer to it, are taken away.
   * Texts wait in the form; a button waits here, and the form with it, as it may bring other fields.
   * @param {Event} event
   */
  #hearEarly(event) {
    if (event.type === 'click') {
      const { target } = event;
      /** @type {HTMLElement | null} */
      const button = target instanceof Element ? target.closest('#start-own, #bring, #brief button') : null;
      if (!button) return;
      event.stopPropagation();
      this.#pressed = button;
      byId('brief').inert = true;
    }
    document.documentElement.classList.add('is-unanswered');
    settle(byId('ticket'), h('p', { text: this.words.t('page.unanswered') }));
  }

  /** Says anew what was said before its words had come, once they have. */
  #sayAnew() {
    const words = () => this.words;
    this.#anew ??= fetched(byId('stage'), () => wholeWords(words), { key: 'offline.missing', words }).then(() => {
      this.#anew = undefined;
      this.#showBusy();
      this.form.tell();
      this.#showPlan();
    });
    this.#showBusy();
  }

  #showBusy() {
    byId('answers').toggleAttribute('aria-busy', this.#isTurning || this.#anew !== undefined);
  }

  mountPanels() {
    const { state, form, begun } = this;
    // What leaves the page is reckoned by the core, the example too.
    this.#panels = mountPanels({ state, reckoner: core, form, begun, words: () => this.words });
  }

  get #isExample() {
    return this.state.brief.title === this.exampleTitle;
  }

  get #what() {
    const { planned: brief, unit, quick } = this.state;
    // The page opens on work that can be planned, and keeps the last good plan.
    const plan = /** @type {Plan} */ (this.state.plan);
    return { plan, brief, words: this.words, unit, quick, formValues: this.form.values };
  }

  // The form, which hears of a plan too, says when the notices are to be shown.
  #showPlan() {
    this.#rounds?.stop();
    const { plan, quick } = this.state;
    if (!plan) return;
    const figure = () => {
      this.#ticketPlace.release();
      this.#showFigure();
    };
    if (quick) {
      figure();
      this.#showDrawing();
    } else this.turns.set([figure, () => this.#showDrawing(), () => this.#showToolbar(), ...this.#rest()]);
  }

  /** The cut figure, on the ticket and, where that is out of sight, on the bar. */
  #showFigure() {
    showTicket(byId('ticket'), this.#what);
    this.#showBar();
  }

  /** What follows the figure and the drawing, a turn each. */
  #rest() {
    const what = this.#what;
    return [
      () => this.#showDoubts(),
      () => showCures(byId('cures'), what, (values, label) => this.form.change(values, label)),
      ...answerJobs(byId('cards'), what),
      () => this.#showWorking(),
      () => this.#speak(),
    ];
  }

  // While a line is dragged the line, its handles and the figure are redrawn in each frame, what else the eye follows in turn; where
  // the finger rests all tell the same plan. The rest waits for the commit.
  #followDrag() {
    // The ranges that are left out meanwhile come back.
    this.#ticketPlace.hold();
    followFigure(this.#what);
    this.#bar?.follow(this.#what);
    this.#showDrawing(true);
    this.#rounds?.go();
  }

  #showDrawing(isLean = false) {
    const { brief, plan, stale } = this.state;
    if (plan) this.drawing?.show({ brief, plan, stale: stale || this.form.isBehind, view: this.#view, errors: this.state.errors, isLean });
  }

  async #showWorking() {
    const { plan, planned: brief } = this.state;
    if (!byId('working').hasAttribute('open') || !plan) return;
    const lines = byId('working-lines');
    if (!lines.hasChildNodes()) fill(lines, h('p', { class: 'hint', text: this.words.t('working.fetching') }));
    try {
      const wanted = wholeWords(() => this.words);
      const [{ showWorking }, steps, form] = await Promise.all([parts.get(), this.reckoner.working(brief), this.form.whole(), wanted]);
      // Another plan may have come meanwhile, and its working is on its way.
      if (this.state.plan === plan && steps.length) showWorking(lines, { steps, ...this.#what, formValues: form.values });
    } catch {
      fill(lines, h('p', { class: 'warning', text: this.words.t('working.not_fetched') }));
    }
  }

  #showNotices() {
    showNotices({ form: this.form, state: this.state, words: this.words, isExample: this.#isExample });
    this.#showBar();
    if (this.form.isBehind) this.#showDoubts();
    if (this.form.needed.length) say(this.words.count('told.needed', this.form.needed.length));
  }

  #showToolbar() {
    showToolbar(byId('tools'), {
      state: this.state,
      words: this.words,
      onUnit: (unit) => void this.#chooseUnit(unit),
      onLanguage: (language) => this.#speakLanguage(language),
      onClassView: () => void this.#openClassView(),
    });
  }

  #showStageTools() {
    /** @param {string} key */
    const t = (key) => this.words.t(key);
    const other = this.#view === 'whole' ? 'half' : 'whole';
    /** @param {string} id @param {string} text @param {() => void} act */
    const button = (id, text, act) => h('button', { type: 'button', id, onclick: act, text });
    const focused = document.activeElement?.id;
    fill(
      byId('stage-tools'),
      button('view', t(`drawing_view.${other}`), () => {
        this.#view = other;
        this.#showDrawing();
        this.#showStageTools();
      }),
      button('pin', t(this.#compare?.isPinned ? 'compare.pin_again' : 'compare.pin'), () => void this.#pin()),
    );
    if (focused && byId('stage-tools').querySelector(`#${focused}`)) byId(focused).focus();
  }

  /**
   * The parts that are fetched when they are wanted, once their words are there too; where they do not come, a place says so.
   * @param {Element} place
   */
  async #laterParts(place) {
    const words = () => this.words;
    const [come] = await fetched(place, () => Promise.all([parts.get(), wholeWords(words)]), { key: 'offline.missing', words });
    return come;
  }

  async #openClassView() {
    const [{ createClassView }, form] = await Promise.all([this.#laterParts(byId('tools')), this.form.whole()]);
    this.#classView ??= createClassView(byId('class-working'), {
      state: this.state,
      reckoner: this.reckoner,
      what: () => ({ ...this.#what, formValues: form.values }),
      onToggle: () => this.drawing?.fit(),
    });
    this.#classView.open();
  }

  /** Pins what stands when the button is pressed. */
  async #pin() {
    const { plan, brief } = this.#what;
    const place = byId('compare');
    place.hidden = false;
    const [{ createCompare }, form] = await Promise.all([this.#laterParts(place), this.form.whole()]);
    const page = { state: this.state, form, words: () => this.words, onChange: () => this.#showStageTools() };
    this.#compare ??= createCompare(place, page);
    this.#compare.pin({ brief, plan });
  }

  /** @param {string} knit */
  #rulerButton(knit) {
    const button = h('button', { type: 'button', class: 'quiet', 'data-ruler': knit, text: this.words.t('ruler.open') });
    button.addEventListener('click', () => void this.#openRuler(knit, button.parentElement ?? button));
    return button;
  }

  /** @param {'front' | 'back'} half */
  #bringButton(half) {
    const button = h('button', { type: 'button', class: 'quiet', 'data-bring': half, text: this.words.t('bring.open') });
    button.addEventListener('click', () => void this.openRoom(button.parentElement ?? button, half));
    return button;
  }

  /**
   * Opens the room where a pattern is brought.
   * @param {Element} place says where it does not come @param {'front' | 'back'} [half] @param {File} [file] what is brought
   */
  async openRoom(place, half, file) {
    const { openRoom } = await this.#laterParts(place);
    const { state, form, reckoner } = this;
    void openRoom(place, { state, form, reckoner, words: () => this.words }, half, file);
  }

  /** A file that is let go on the page, or pasted. @param {Event} event */
  #given(event) {
    const data = /** @type {DragEvent} */ (event).dataTransfer ?? /** @type {ClipboardEvent} */ (event).clipboardData;
    if (!data?.types.includes('Files') || event.defaultPrevented || !byId('bring')) return;
    event.preventDefault();
    if (data.files[0]) void this.openRoom(byId('stage'), undefined, data.files[0]);
  }

  /** @param {string} knit @param {Element} place */
  async #openRuler(knit, place) {
    const { createRuler } = await this.#laterParts(place);
    this.#ruler ??= createRuler({
      words: () => this.words,
      unit: () => this.state.unit,
      onUse: (which, readings) => this.#useReadings(which, readings),
    });
    this.#ruler.open(knit);
  }

  /** @param {string} knit @param {Readings} readings */
  #useReadings(knit, { rest, stretched, released }) {
    /** @param {string} name */
    const at = (name) => `${knit}.crosswise.${name}`;
    this.form.change(
      { [at('how')]: 'readings', [at('rest')]: rest, [at('stretched')]: stretched, [at('released')]: released },
      this.words.t('ruler.heading'),
    );
    this.form.focus(at('stretched'));
  }

  // What was dragged and taken back is planned in full again, and leaves no step.
  /** @param {Edit} edit */
  #edited({ phase, brief, label, cancelled }) {
    this.state.set(brief, { label, transient: phase === 'drag' && !cancelled });
  }

  /** What was said of a step is not true any more once it has been taken back. */
  #hush() {
    this.drawing?.hush();
    document.getElementById('usual')?.remove();
  }

  #speak() {
    // A page that opens is read from its head, not talked over.
    const isFirst = !this.#hasSpoken;
    this.#hasSpoken = true;
    if (isFirst || this.form.isFresh) return;
    const wrong = this.form.problems.length;
    if (wrong) {
      say(this.words.count('errors.heading', wrong));
      return;
    }
    const { plan, unit } = this.#what;
    const { lies, head } = verdicts(plan, this.words, unit);
    say([headline(plan, this.words, unit), apart(this.#what)?.text ?? '', ...lies.map(({ text }) => text), head].filter(Boolean).join(' '));
  }

  // What is older says nothing of the entries as they now are.
  #showDoubts() {
    this.form.doubt(this.state.stale || this.form.isBehind ? [] : doubts(this.#what));
  }

  #showBar() {
    this.#bar?.show(this.#what);
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    const isUndo = (event.ctrlKey || event.metaKey) && !event.altKey && event.key.toLowerCase() === 'z';
    if (!isUndo || isInText(event)) return;
    const isOurs = isForPage(event);
    // Anywhere else the browser would take back what was typed last, in whatever field that was.
    event.preventDefault();
    // What is held is no step yet.
    if (!isOurs || this.drawing?.isHeld) return;
    if (event.shiftKey) this.state.redo();
    else this.state.undo();
  }

  /** @param {string} language */
  async #speakLanguage(language) {
    const how = { key: 'offline.missing', words: () => this.words };
    this.#language = language;
    const words = await fetched(byId('tools'), () => loadWords(language), how);
    // Another was chosen while these words were on their way.
    if (this.#language !== language) return;
    this.words = words;
    remember('language', language);
    this.state.language = language;
  }

  /**
   * Shows lengths in the unit that the person chose. From metric to inches or back, of an example that nobody touched the other one is
   * shown, one step that can be taken back; what a brief holds stays, and what would be usual is offered.
   * @param {Unit} unit
   */
  async #chooseUnit(unit) {
    const { state, form } = this;
    const before = state.unit;
    remember('unit', unit);
    form.readNow();
    const isExample = !form.isBehind && same(state.brief, core.example(before));
    state.unit = unit;
    if (systemOf(unit) === systemOf(before)) return;
    if (isExample) state.set(core.example(unit), { label: this.words.t('tools.unit') });
    const [{ showUsual }, whole] = await Promise.all([this.#laterParts(byId('tools')), form.whole()]);
    showUsual({ form: whole, words: this.words, unit, isExample });
  }

  #settings() {
    putStaticWords(this.words);
    this.drawing?.setWords(this.words);
    this.drawing?.setUnit(this.state.unit);
    this.form.refresh(this.words);
    this.#showToolbar();
    this.#showStageTools();
    this.#showPlan();
    this.#compare?.refresh();
    this.#classView?.refresh();
    this.#panels.refresh(this.words);
  }
}

const whenIdle = globalThis.requestIdleCallback ?? ((/** @type {() => void} */ act) => setTimeout(act, 200));

/** Says that something did not come; done when the person wants it tried again. @param {unknown} error */
async function askedAgain(error) {
  console.error(error);
  const [failed, note] = [byId('failed'), byId('example-note')];
  // Where no example is shown, as for a link, none is named.
  note.hidden ||= !byId('ticket').hasChildNodes();
  failed.hidden = false;
  await new Promise((resolve) => {
    byId('load-again').addEventListener('click', resolve, { once: true });
  });
  failed.hidden = true;
}

/** The core, however often it must be asked for. */
async function arrival() {
  for (;;) {
    try {
      return await loadReckoner();
    } catch (error) {
      await askedAgain(error);
    }
  }
}

async function start() {
  try {
    const loading = arrival();
    const unit = firstUnit();
    // A link brings its own brief.
    const example = location.hash.length > 1 ? undefined : loadFirstPlan(unit);
    const words = await loadWords(firstLanguage());
    // What the person was at is there from the first moment, before anything that keeps it is.
    const begun = await lastWork(async (brief) => Boolean((await loading).planQuick(brief).plan));
    // Kept work, or what a link brings, may need a part that the example does without: that comes together with the core.
    const plan = begun ? undefined : await example;
    if (!plan) await Promise.all([loading, parts.ahead()]);
    // Work goes on in the unit it was made in.
    const page = new Page(words, { unit: begun?.unit ?? unit, begun, plan });
    // Who begins may want any of them next, and what is said of mistakes. Where they do not come, whoever needs them says so.
    const ahead = async () => {
      page.form.ahead();
      await parts.ahead();
      parts.now?.followFocus(page);
    };
    for (const name of BEGINS) addEventListener(name, ahead, { once: true, capture: true });
    await page.show();
    await loading;
    page.begin();
    document.documentElement.classList.add('is-ready');
    if (location.search === '?shared') void page.openRoom(byId('stage'));
    // A link that carries a brief is read at once; otherwise the first plan is painted before the rest is fetched.
    if (location.hash.length > 1) page.mountPanels();
    else whenIdle(() => page.mountPanels());
  } catch (error) {
    await askedAgain(error);
    location.reload();
  }
}

start();
