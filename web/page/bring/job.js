// A Worker that reads what a person brings: one question at a time, a time limit, and an end at any moment.

/** @typedef {Record<string, any>} Message what is asked of a module and what it answers, as its messages.rs has them */

/** What was refused, with its code and its figures; `slow`, `broken` and `lost` are the page's own codes. */
export class Refusal extends Error {
  /** @param {string} code @param {Message} [figures] */
  constructor(code, figures = {}) {
    super(code);
    this.code = code;
    this.figures = figures;
  }
}

/** @typedef {{ resolve(answer: Message): void, reject(why: unknown): void, timer?: ReturnType<typeof setTimeout> }} Asked */

export class Job {
  /** @type {Asked | undefined} */
  #asked;
  #isOver = false;
  /** Questions are put one after the other. @type {Promise<unknown>} */
  #last;

  /** @param {Worker} worker says `{ ready: true }` once its module is there */
  constructor(worker) {
    this.worker = worker;
    worker.addEventListener('message', ({ data }) => this.#hear(data));
    // What the Worker could not fetch or run: nothing more will come of it.
    worker.addEventListener('error', () => this.#stop(new Refusal('broken')));
    this.#last = new Promise((resolve, reject) => {
      this.#asked = { resolve, reject };
    });
    this.#last.catch(() => {});
  }

  /**
   * What the module answers.
   * @param {Message} message @param {number} [limit] ms until it is given up and the Worker ended
   * @returns {Promise<Message>} refused with a `Refusal`
   */
  ask(message, limit) {
    const answer = this.#last.then(
      () =>
        new Promise((resolve, reject) => {
          if (this.#isOver) {
            reject(new Refusal('over'));
            return;
          }
          const timer = limit ? setTimeout(() => this.#stop(new Refusal('slow')), limit) : undefined;
          this.#asked = { resolve, reject, timer };
          this.worker.postMessage(message);
        }),
    );
    // What was refused does not keep from asking again; what never began does.
    this.#last = answer.catch((why) => {
      if (this.#isOver) throw why;
    });
    this.#last.catch(() => {});
    return answer;
  }

  /** Ends the work, whatever it is at. */
  end() {
    this.#stop(new Refusal('over'));
  }

  get isOver() {
    return this.#isOver;
  }

  /** @param {Message} data */
  #hear(data) {
    const asked = this.#take();
    if (data.refused) asked?.reject(new Refusal(data.refused.code, data.refused));
    else asked?.resolve(data);
  }

  #take() {
    const asked = this.#asked;
    this.#asked = undefined;
    clearTimeout(asked?.timer);
    return asked;
  }

  /** @param {Refusal} why */
  #stop(why) {
    this.#isOver = true;
    this.worker.terminate();
    this.#take()?.reject(why);
  }
}
