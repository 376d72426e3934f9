// Work that follows a change, in turns: as much as fits beside what the finger needs, then the browser's turn to paint.

/** How much of a frame's 16 ms the page's own work takes, ms: a phone's processor takes four times a desk's. */
const SHARE = 1;
/** How long a frame is waited for, ms: none comes to a page that is out of sight, and there is none to be kept free. */
const PATIENCE = 1000;

/** Lets the browser paint and take input before what comes next. @returns {Promise<void>} */
export function pause() {
  return new Promise((resolve) => {
    setTimeout(resolve);
  });
}

/**
 * One list of jobs, replaced as a whole by the next change's.
 * @param {(isBusy: boolean) => void} tell is called when a list begins and when all of it is done
 */
export function createTurns(tell) {
  /** @type {(() => void)[]} */
  let jobs = [];
  let isWaiting = false;

  function wait() {
    isWaiting = true;
    let isLate = false;
    /** @param {number} end */
    const go = (end) => {
      clearTimeout(late);
      isWaiting = false;
      run(end);
    };
    const late = setTimeout(() => {
      isLate = true;
      go(Infinity);
    }, PATIENCE);
    requestAnimationFrame(() => setTimeout(() => isLate || go(performance.now() + SHARE)));
  }

  /** @param {number} end */
  function run(end) {
    try {
      while (jobs.length && performance.now() < end) jobs.shift()?.();
    } finally {
      // A job at fault says so itself, and keeps none of the others from being done.
      if (jobs.length) wait();
      else tell(false);
    }
  }

  return {
    /** @param {(() => void)[]} list in the order in which they matter to the person */
    set(list) {
      jobs = list;
      tell(true);
      if (!isWaiting) wait();
    },
    /** Does what is left at once, as before printing. */
    finish() {
      if (jobs.length) run(Infinity);
    },
  };
}
