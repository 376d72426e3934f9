// What the page itself fetches only when it is wanted. One file: each part alone would have what it shares with the page cut into ever smaller ones.

export { openRoom } from './bring/door.js';
export { createClassView } from './plan/class-view.js';
export { createCompare } from './plan/compare.js';
export { errorScene } from './drawing/scene-errors.js';
export { facingScene } from './drawing/scene-facing.js';
export { pathHandles } from './drawing/path-handles.js';
export { followFocus } from './drawing/in-sight.js';
export { lightUp } from './drawing/light.js';
export { createRuler } from './form/ruler.js';
export { showWorking } from './plan/working.js';
export { showUsual } from './form/usual.js';
