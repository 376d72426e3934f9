// Work that follows what moves: a job with each move, round and round; once it rests a whole round.

/** How long nothing has moved when it rests, ms: what came sooner would be in the way of the next move. */
const REST = 64;
/** How many jobs a frame has then, which has no move to follow. */
const AT_REST = 2;

/**
 * @param {(() => void)[]} jobs each brings something up to what is there by then
 * @param {{ settle(): void, isMoving(): boolean }} host what is done at the end, when it rests; whether a move comes in this frame
 */
export function createRounds(jobs, { settle, isMoving }) {
  let next = 0;
  let last = 0;
  let frame = 0;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let timer;

  // One timer for many moves.
  function look() {
    const left = last + REST - performance.now();
    timer = left > 0 ? setTimeout(look, left) : undefined;
    if (!timer) rest(0);
  }

  /** @param {number} at */
  function rest(at) {
    frame = requestAnimationFrame(() => {
      if (isMoving()) return;
      if (at < jobs.length) rest(at + AT_REST);
      else settle();
      for (const job of jobs.slice(at, at + AT_REST)) job();
    });
  }

  return {
    /** Something has moved. */
    go() {
      last = performance.now();
      cancelAnimationFrame(frame);
      timer ??= setTimeout(look, REST);
      jobs[next]();
      next = (next + 1) % jobs.length;
    },
    /** All is done by other means. */
    stop() {
      clearTimeout(timer);
      timer = undefined;
      cancelAnimationFrame(frame);
      next = 0;
    },
  };
}
