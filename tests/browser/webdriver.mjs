// As much of a WebDriver client as the page's tests need.

/** @typedef {[number, number]} Point px of the viewport */
/** @typedef {Awaited<ReturnType<typeof openSession>>} Driver */

/** The name under which WebDriver hands out elements. */
const ELEMENT = 'element-6066-11e4-a52e-4f735466cecf';
/** How long an answer is waited for, ms: a driver whose browser is gone gives none. */
const PATIENCE = 60_000;

/**
 * Starts a session. @param {string} server its address @param {object} capabilities
 * `run` takes a function that answers at once, `ask` one
 * that answers by a promise.
 */
export async function openSession(server, capabilities) {
  const made = await send(server, 'POST', '/session', { capabilities: { alwaysMatch: capabilities } });
  /** @param {string} method @param {string} path @param {object} [body] */
  const ask = (method, path, body) => send(server, method, `/session/${made.sessionId}${path}`, body);
  /** @param {string} selector @returns {Promise<string>} */
  const find = async (selector) => (await ask('POST', '/element', { using: 'css selector', value: selector }))[ELEMENT];
  return {
    /** @param {string} url */
    goTo: (url) => ask('POST', '/url', { url }),
    /** @template {any[]} Args @template Found @param {(...args: Args) => Found} act @param {Args} args @returns {Promise<Found>} */
    run: (act, ...args) => ask('POST', '/execute/sync', { script: `return (${act}).apply(null, arguments)`, args }),
    /** @template {any[]} Args @template Found @param {(...args: Args) => Promise<Found>} act @param {Args} args @returns {Promise<Found>} */
    ask: async (act, ...args) => {
      const script = `const done = arguments[arguments.length - 1];
        (${act}).apply(null, [...arguments].slice(0, -1)).then((found) => done({ found }), (error) => done({ error: String(error) }));`;
      const { found, error } = await ask('POST', '/execute/async', { script, args });
      if (error) throw new Error(error);
      return found;
    },
    reload: () => ask('POST', '/refresh', {}),
    /** @param {string} selector */
    click: async (selector) => ask('POST', `/element/${await find(selector)}/click`, {}),
    /** @param {string} selector @param {string} text */
    type: async (selector, text) => ask('POST', `/element/${await find(selector)}/value`, { text }),
    /** @param {Point} from @param {Point} to */
    drag: (from, to) => ask('POST', '/actions', { actions: [mouse(from, to)] }),
    end: () => ask('DELETE', ''),
  };
}

/** @param {string} server @param {string} method @param {string} path @param {object} [body] */
async function send(server, method, path, body) {
  const response = await fetch(server + path, {
    method,
    body: body && JSON.stringify(body),
    headers: { 'content-type': 'application/json' },
    signal: AbortSignal.timeout(PATIENCE),
  });
  const { value } = await response.json();
  if (!response.ok) throw new Error(`${method} ${path}: ${value?.error} ${value?.message}`);
  return value;
}

/** A press, a movement in a few steps and a release, px of the viewport. @param {Point} from @param {Point} to @param {number} [steps] */
function mouse([x, y], [toX, toY], steps = 6) {
  /** @param {number} share */
  const at = (share) => ({
    type: 'pointerMove',
    duration: 30,
    origin: 'viewport',
    x: Math.round(x + share * (toX - x)),
    y: Math.round(y + share * (toY - y)),
  });
  const moves = Array.from({ length: steps }, (_, i) => at((i + 1) / steps));
  return {
    type: 'pointer',
    id: 'mouse',
    parameters: { pointerType: 'mouse' },
    actions: [at(0), { type: 'pointerDown', button: 0 }, ...moves, { type: 'pointerUp', button: 0 }],
  };
}
