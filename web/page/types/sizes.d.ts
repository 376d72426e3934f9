// Generated of the core's types by `cargo run -p lieflat-tests --example generate`: not to be edited.

/** A table of sizes. */
export interface SizeSet {
  /** The grade of the readings in one step, where sizes are told in steps. */
  growth?: Growth;
  /** The sizes, 1 to 40. */
  sizes: Size[];
}

/** The grade of the base's readings in one step; `growth` in its JSON. A reading that the base does not have has none. */
export interface Growth {
  /** The front half's. */
  front?: HalfGrowth;
  /** The back half's. */
  back?: HalfGrowth;
  /** The person's own head girth, by the front's steps. mm, -60 to 60. Default: 0. */
  head_mm?: number;
}

/** The grade of one half's readings in one step. mm, -60 to 60. */
export interface HalfGrowth {
  /** Along the line, where it was measured. Default: 0. */
  half_length_mm?: number;
  /** From the line's own centre out to the neck point, as the brief's. Default: 0. */
  half_width_mm?: number;
  /** From the neck point down to the centre. Default: 0. */
  depth_mm?: number;
}

/** One size: its name, and how its halves come from the base. */
export interface Size {
  /** A name, shown and never interpreted. */
  name: string;
  /** The front half. */
  front: HalfSize;
  /** The back half; another size than the front's where a maker blends. */
  back: HalfSize;
  /** The head girth of this size, in place of the base's and its grade, where that is a person's own. mm; as in the brief. */
  head_girth_mm?: number | null;
}

/** How a half of a size is told. */
export type HalfSize =
  /** So many steps from the base, down below zero. -40 to 40; halves of a step are sizes between. */
  | { steps: number; readings?: undefined }
  /** The size's own readings, in place of the base's. */
  | { readings: SizeReadings; steps?: undefined };

/** A half's own readings; what is absent stays as in the base. Ranges as in the brief. */
export interface SizeReadings {
  /** Along the line, where it was measured. mm. */
  half_length_mm?: number | null;
  /** From the line's own centre out to the neck point, as the brief's. mm. */
  half_width_mm?: number | null;
  /** From the neck point down to the centre. mm. */
  depth_mm?: number | null;
}
