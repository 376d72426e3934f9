// What the build puts in the place of these addresses; nothing of it is in the tree.

declare module 'built:catalogues' {
  /** Each language by its code: its own name, and where the words of a first visit and all others are. */
  const catalogues: Record<string, { name: string; first: URL; later: URL }>;
  export default catalogues;
}

declare module 'built:lost-words' {
  /** What is said in each language, by its code, where no words can be fetched. */
  const lost: Record<string, { not_loaded: string; again: string }>;
  export default lost;
}

declare module '*/pkg/lieflat_web.js' {
  export default function init(): Promise<unknown>;
  /** Briefs and tables go as JSON, answers come as JSON. */
  export function plan(brief: string): string;
  export function plan_quick(brief: string): string;
  export function plan_with_working(brief: string): string;
  export function told(brief: string): string;
  export function sizes(base: string, table: string): string;
  export function parse_length(text: string, unit: string): number | string;
  export function parse_number(text: string): number | string;
}

declare module '*/pkg/lieflat_sheets.js' {
  export default function init(): Promise<unknown>;
  export function makePdf(
    brief: string,
    plan: string,
    options: string,
  ): { takeBytes(): Uint8Array<ArrayBuffer>; readonly pages: number; readonly replacedLetters: string[]; free(): void };
  export function makePieces(
    brief: string,
    plan: string,
    options: string,
    form: import('../sheets/sheets.js').PieceForm,
  ): { readonly name: string; readonly title: string; readonly file: string; free(): void }[];
}

declare module '*/pkg/lieflat_photo.js' {
  /** From then on the Worker answers by itself. */
  export default function init(): Promise<unknown>;
}

declare module '*/pkg/lieflat_pdf.js' {
  /** From then on the Worker answers by itself. */
  export default function init(): Promise<unknown>;
}

declare module '*/pkg/lieflat_text.js' {
  /** From then on the Worker answers by itself. */
  export default function init(): Promise<unknown>;
}

/** Set by the tests, so that a missing word is an error and not a key on the screen. */
declare var lieflatStrictWords: boolean | undefined;
