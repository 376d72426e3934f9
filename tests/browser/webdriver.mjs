// As much of a WebDriver client as the page's tests need.

/** The name under which WebDriver hands out elements. */
const ELEMENT = 'element-6066-11e4-a52e-4f735466cecf';
/** How long an answer is waited for, ms: a driver whose browser is gone gives none. */
const PATIENCE = 60_000;

/**
 * Starts a session. @param {string} server its address @param {object} capabilities
 * `run` takes a function that answers at once, `ask` one
 * that answers by a promise. @returns {Promise<{ goTo, reload, run, ask, click, type, drag, end }>}
 */
export async function openSession(server, capabilities) {
  const made = await send(server, 'POST', '/session', { capabilities: { alwaysMatch: capabilities } });
  const ask = (method, path, body) => send(server, method, `/session/${made.sessionId}${path}`, body);
  const find = async (selector) => (await ask('POST', '/element', { using: 'css selector', value: selector }))[ELEMENT];
  return {
    goTo: (url) => ask('POST', '/url', { url }),
    run: (act, ...args) => ask('POST', '/execute/sync', { script: `return (${act}).apply(null, arguments)`, args }),
    ask: async (act, ...args) => {
      const script = `const done = arguments[arguments.length - 1];
        (${act}).apply(null, [...arguments].slice(0, -1)).then((found) => done({ found }), (error) => done({ error: String(error) }));`;
      const { found, error } = await ask('POST', '/execute/async', { script, args });
      if (error) throw new Error(error);
      return found;
    },
    reload: () => ask('POST', '/refresh', {}),
    click: async (selector) => ask('POST', `/element/${await find(selector)}/click`, {}),
    type: async (selector, text) => ask('POST', `/element/${await find(selector)}/value`, { text }),
    drag: (from, to) => ask('POST', '/actions', { actions: [mouse(from, to)] }),
    end: () => ask('DELETE', ''),
  };
}

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

/** A press, a movement in a few steps and a release, px of the viewport. */
function mouse([x, y], [toX, toY], steps = 6) {
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
