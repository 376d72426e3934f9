// The bar at the foot of the screen, while the ticket is out of sight: the figure, or how much it still takes to have one; and one
// press leads from there to the answers and back.

import { byId, h, settle } from '../common/dom.js';
import { isNarrow } from '../common/narrow.js';
import { setText } from '../drawing/nodes.js';
import { idOf } from '../form/fields.js';
import { apart } from './doubts.js';
import { isOlder } from './notices.js';
import { headline } from './ticket.js';

/** @import { Steps } from '../form/steps.js' */
/** @import { What } from './ticket.js' */

/** The page's answers are looked at when they reach the middle of the screen. */
const MIDDLE = { rootMargin: '-40% 0px' };
/** The ticket's figure is in sight while more than its edge is. */
const MORE_THAN_EDGE = { rootMargin: '-100px 0px' };
/** How long the bar stays when a field is left, ms: as long as a press on it takes. */
const PRESS = 500;

export class Bar {
  #form;
  #isTicketSeen = true;
  #isAnswersSeen = false;
  /** Where it leads to. */
  #go = () => {};
  #show = () => {};

  /** @param {Steps} form */
  constructor(form) {
    this.#form = form;
    const bar = byId('bar');
    bar.addEventListener('click', (event) => {
      event.preventDefault();
      this.#go();
    });
    this.#watch('ticket', MORE_THAN_EDGE, (isSeen) => {
      this.#isTicketSeen = isSeen;
    });
    this.#watch('answers', MIDDLE, (isSeen) => {
      this.#isAnswersSeen = isSeen;
    });
    byId('brief').addEventListener('focusin', () => this.#follow());
    byId('brief').addEventListener('focusout', () => setTimeout(() => this.#follow(), PRESS));
    watchCovered();
  }

  /** @param {string} id @param {IntersectionObserverInit} how @param {(isSeen: boolean) => void} tell */
  #watch(id, how, tell) {
    const watcher = new IntersectionObserver(([{ isIntersecting }]) => {
      tell(isIntersecting);
      this.#follow();
    }, how);
    watcher.observe(byId(id));
  }

  /** On a phone the keyboard may lie over the ticket: while one types the bar is there in any case. */
  #follow() {
    const isTyping = isNarrow() && byId('brief').contains(document.activeElement);
    byId('bar').hidden = this.#isTicketSeen && !isTyping;
    this.#show();
  }

  /** @param {What} what */
  show(what) {
    this.#show = () => (this.#form.isFresh ? this.#needed(what) : this.#figure(what));
    this.#show();
  }

  /** The figure alone, as it follows a finger. @param {What} what */
  follow({ plan, words, unit }) {
    const bar = byId('bar');
    if (!bar.hidden && !this.#form.isFresh) setText(bar.firstElementChild, headline(plan, words, unit));
  }

  /** How many entries it still takes, and the next of them. @param {What} what */
  #needed({ words }) {
    const { needed, problems } = this.#form;
    const [next] = [...needed, ...problems];
    const text = needed.length ? words.count('told.needed', needed.length) : words.count('told.wrong', problems.length);
    this.#write(next?.key ? idOf(next.key) : 'brief', text, next?.name, '');
    this.#go = () => next?.key && this.#form.focus(next.key);
  }

  /** The figure, and what becomes of it. @param {What} what */
  #figure(what) {
    const { plan, unit, words } = what;
    const says = isOlder() ? 'page.older_short' : apart(what) ? 'doubt.short' : plan.strip ? `outcome.${plan.strip.outcome}` : '';
    const isBack = this.#isAnswersSeen;
    this.#write(
      isBack ? 'brief' : 'answers',
      headline(plan, words, unit),
      says && words.t(says),
      words.t(isBack ? 'bar.back' : 'bar.answers'),
    );
    this.#go = () => (isBack ? this.#form.comeBack() : goToAnswers());
  }

  /** @param {string} id where it leads @param {string} figure @param {string | undefined} says @param {string} leads what is there */
  #write(id, figure, says, leads) {
    const bar = byId('bar');
    bar.setAttribute('href', `#${id}`);
    bar.setAttribute('data-leads', leads);
    settle(bar, h('strong', { text: figure }), says && h('span', { text: says }));
  }
}

function goToAnswers() {
  const answers = byId('answers');
  answers.focus({ preventScroll: true });
  answers.scrollIntoView();
}

/** Tells the styles how much of the page a keyboard on the screen lies over: what stands at its foot stands above that. */
function watchCovered() {
  const { visualViewport: seen } = globalThis;
  if (!seen) return;
  const follow = () => {
    const { clientHeight, style } = document.documentElement;
    // Enlarged by two fingers, the page is moved about under the window: nothing covers it then.
    const covered = seen.scale > 1.01 ? 0 : Math.max(0, Math.round(clientHeight - seen.height - seen.offsetTop));
    if (style.getPropertyValue('--covered') === `${covered}px`) return;
    style.setProperty('--covered', `${covered}px`);
    const { activeElement: field } = document;
    if (covered && field && byId('brief').contains(field)) field.scrollIntoView({ block: 'nearest' });
  };
  for (const name of ['resize', 'scroll']) seen.addEventListener(name, follow);
}
