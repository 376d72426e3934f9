// How the embedded calculator looks. The host page may set the custom properties
// named here on the element; everything else stays inside the shadow root.

const css = `
:host {
  --ink: var(--lieflat-ink, CanvasText);
  --paper: var(--lieflat-paper, Canvas);
  --line: var(--lieflat-line, GrayText);
  --accent: var(--lieflat-accent, #1f4e4a);
  --accent-ink: var(--lieflat-accent-ink, #fff);
  --warn: var(--lieflat-warn, #a3290f);
  display: block;
  color: var(--ink);
  background: var(--paper);
  border: 1px solid var(--line);
  border-radius: var(--lieflat-radius, 0.4rem);
  padding: 1rem;
}
.inside {
  all: initial;
  color-scheme: inherit;
  display: block;
  color: var(--ink);
  font: var(--lieflat-font, 1rem/1.45 system-ui, sans-serif);
}
:host([hidden]) { display: none; }
@media (prefers-color-scheme: dark) {
  :host { --warn: var(--lieflat-warn, #ff9d85); }
}
* { box-sizing: border-box; }
h2 { font-size: 1.15em; margin: 0 0 0.3em; overflow-wrap: anywhere; }
p { margin: 0 0 0.6em; }
form { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(11rem, 100%), 1fr)); gap: 0.8rem; margin: 0.8rem 0; align-items: end; }
.hint { font-size: 0.95em; }
button { min-height: 2.75rem; font: inherit; }
label { display: block; font-weight: 600; margin-bottom: 0.2em; }
input, select { width: 100%; min-height: 2.75rem; font: inherit; color: inherit; background: transparent; border: 1px solid var(--line); border-radius: 0.3rem; padding: 0.3rem 0.5rem; }
select option { color: CanvasText; background: Canvas; }
:focus-visible { outline: 3px solid var(--accent); outline-offset: 2px; }
[aria-invalid] { border: 2px solid var(--warn); }
.error { color: var(--warn); margin: 0.2em 0 0; }
.cut { font-size: 1.35em; font-weight: 700; margin: 0.4em 0; }
.result { border-top: 1px solid var(--line); padding-top: 0.6rem; }
.older { color: var(--warn); }
a { color: inherit; display: inline-block; min-height: 1.5rem; }
[hidden] { display: none !important; }
`;

/** @type {CSSStyleSheet | undefined} */
let sheet;

/** Gives a shadow root its style; one sheet serves all. Works under any `style-src`. @param {ShadowRoot} root */
export function adoptStyle(root) {
  if (!sheet) {
    sheet = new CSSStyleSheet();
    sheet.replaceSync(css);
  }
  root.adoptedStyleSheets = [sheet];
}
