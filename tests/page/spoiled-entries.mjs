// Kept entries of which one field is not what it should be, and one that is sound: `[kind, entry]`.

import { GOOD } from '../browser/nonsense.mjs';

export const spoiled = [
  ['briefs', { id: 'title', name: 'Object title', changed: '2026-01-02T00:00:00Z', revision: 1, brief: { ...GOOD, title: { a: 1 } } }],
  [
    'briefs',
    {
      id: 'size',
      name: 'Object size',
      changed: '2026-01-02T00:00:00Z',
      revision: 1,
      brief: GOOD,
      sizes: { mode: 'growth', smaller: 1, larger: 1, names: { 0: {} }, backs: {}, growth: { front: {}, back: {} }, readings: {} },
    },
  ],
  [
    'knits',
    {
      id: 'knit',
      name: 'Object knit',
      changed: '2026-01-02T00:00:00Z',
      revision: 1,
      knit: { name: {}, crosswise: { percent: { stretch_percent: 50 } } },
    },
  ],
  ['drafts', { id: 'draft', changed: '2026-01-02T00:00:00Z', brief: { ...GOOD, title: 5 } }],
];
export const sound = ['briefs', { id: 'good', name: 'Good one', changed: '2026-01-02T00:00:00Z', revision: 1, brief: GOOD }];
