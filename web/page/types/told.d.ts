// Generated of the core's types by `cargo run -p lieflat-tests --example generate`: not to be edited.

/** Both halves of a neckline, told. */
export interface Told {
  /** Centre front to neck point. */
  front: ToldHalf;
  /** Centre back to neck point. */
  back: ToldHalf;
}

/** The line a half is known by (the brief's `readings_at` says which), in every way it can be told. */
export interface ToldHalf {
  /** Along the line, from the centre to the shoulder edge. mm. */
  half_length_mm: number;
  /** From the line's own centre out to the neck point, as the brief's. mm. */
  half_width_mm: number;
  /** From the neck point down to the centre. mm. */
  depth_mm: number;
  /** The line as an SVG path from the centre to the neck point. mm. */
  path_mm: string;
}
