// What the build puts in the place of these addresses; nothing of it is in the tree.

declare module 'built:catalogues' {
  /** Each language by its code: its own name, and where the words of a first visit and all others are. */
  const catalogues: Record<string, { name: string; first: URL; later: URL }>;
  export default catalogues;
}

declare module '*/pkg/example_plan.json' {
  const plan: import('./plan.d.ts').Plan;
  export default plan;
}

declare module '*/pkg/lieflat_web.js' {
  type Errors = import('./errors.d.ts').BriefErrors & { plan?: undefined; told?: undefined };
  type Answer = { plan: import('./plan.d.ts').Plan; errors?: undefined } | Errors;
  export default function init(): Promise<unknown>;
  export function plan(brief: unknown): Answer;
  export function plan_quick(brief: unknown): Answer;
  export function told(brief: unknown): { told: import('../plan/reckoner.js').Halves; errors?: undefined } | Errors;
  export function parse_length(text: string, unit: string): number | string;
  export function parse_number(text: string): number | string;
  export function format_length(mm: number, unit: string): string;
}

declare module '*/pkg/lieflat_whole.js' {
  export default function init(): Promise<unknown>;
  export function plan(brief: unknown): import('../plan/reckoner.js').Answer;
  export function sizes(base: unknown, table: unknown): import('../plan/reckoner.js').SizesAnswer;
}

declare module '*/pkg/lieflat_sheets.js' {
  export default function init(): Promise<unknown>;
  export function makePdf(
    brief: string,
    plan: string,
    options: string,
  ): { takeBytes(): Uint8Array<ArrayBuffer>; readonly pages: number; readonly replacedLetters: string[]; free(): void };
  export function makeSvgs(brief: string, plan: string, options: string): { readonly name: string; readonly svg: string; free(): void }[];
}

/** Set by the tests, so that a missing word is an error and not a key on the screen. */
declare var lieflatStrictWords: boolean | undefined;
