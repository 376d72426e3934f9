// The script that a page names to have <lieflat-neckline> elements.
import { LieflatNeckline } from '../web/page/embed/element.js';

// Hashed scripts lie one folder below the page.
LieflatNeckline.home = new URL('../', import.meta.url).href;
if (!customElements.get('lieflat-neckline')) customElements.define('lieflat-neckline', LieflatNeckline);
