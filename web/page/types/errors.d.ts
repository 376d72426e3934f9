// Generated of the core's types by `cargo run -p lieflat-tests --example generate`: not to be edited.

import type { Unit } from './plan.d.ts';
export type { Unit } from './plan.d.ts';

/** Everything wrong with a brief, together. */
export interface BriefErrors {
  /** The problems, in the order of the brief's fields; never empty. */
  errors: BriefError[];
}

/** One thing wrong with a brief. */
export interface BriefError {
  /** The field's path in the brief's JSON, such as `neckline.front.outline.measured.half_length_mm`. */
  field: string;
  /** What stood there, as text; none where nothing did. */
  value?: string;
  /** What was wrong with it. */
  problem: Problem;
  /** What is accepted. */
  accepted: Accepted;
}

/** What was wrong at a field. */
export type Problem =
  /** A value is needed and there is none. */
  | 'missing'
  /** The field is not one of this schema's fields. */
  | 'unknown_field'
  /** The text is not readable as a brief or as this field's kind of value. */
  | 'unreadable'
  /** The number is not a finite number. */
  | 'not_finite'
  /** The number is outside what is accepted. */
  | 'out_of_range'
  /** The schema's name or version is another one. */
  | 'other_schema'
  /** The value does not belong with the shape that was chosen. */
  | 'not_with_this_shape'
  /** The stretched length is not longer than the length at rest. */
  | 'stretched_not_longer'
  /** The length after release is under the length at rest: a recovery over 100 percent. */
  | 'recovery_over_whole'
  /** No neckline of this shape has these lengths together. */
  | 'no_such_shape'
  /** The curve turns away too tightly for the allowance or width: the offset makes a cusp there. */
  | { cusp_at: { x_mm: number; y_mm: number }; crosses_at?: undefined; path_crosses_at?: undefined; path_folds_at?: undefined; path_stray_at?: undefined; path_ends_at?: undefined; path_too_large_at?: undefined }
  /** The offset line crosses itself near this place. */
  | { crosses_at: { x_mm: number; y_mm: number }; cusp_at?: undefined; path_crosses_at?: undefined; path_folds_at?: undefined; path_stray_at?: undefined; path_ends_at?: undefined; path_too_large_at?: undefined }
  /** The allowances leave nothing of this edge. */
  | 'nothing_left'
  /** A drawn path does not start on the centre line or end at the neck point. */
  | 'not_centre_to_neck'
  /** A drawn path crosses itself near this place. */
  | { path_crosses_at: { x_mm: number; y_mm: number }; cusp_at?: undefined; crosses_at?: undefined; path_folds_at?: undefined; path_stray_at?: undefined; path_ends_at?: undefined; path_too_large_at?: undefined }
  /** A drawn path folds back on itself at this place: no allowance can be set off along it. */
  | { path_folds_at: { x_mm: number; y_mm: number }; cusp_at?: undefined; crosses_at?: undefined; path_crosses_at?: undefined; path_stray_at?: undefined; path_ends_at?: undefined; path_too_large_at?: undefined }
  /** The text of a drawn path has something in it that is no part of a path there. */
  | { path_stray_at: { place: number; found: string }; cusp_at?: undefined; crosses_at?: undefined; path_crosses_at?: undefined; path_folds_at?: undefined; path_ends_at?: undefined; path_too_large_at?: undefined }
  /** The text of a drawn path ends where a number is still missing. */
  | { path_ends_at: { place: number }; cusp_at?: undefined; crosses_at?: undefined; path_crosses_at?: undefined; path_folds_at?: undefined; path_stray_at?: undefined; path_too_large_at?: undefined }
  /** A number in the text of a drawn path is too large to be reckoned with. */
  | { path_too_large_at: { place: number; found: string }; cusp_at?: undefined; crosses_at?: undefined; path_crosses_at?: undefined; path_folds_at?: undefined; path_stray_at?: undefined; path_ends_at?: undefined };

/** What would be accepted instead. */
export interface Accepted {
  /** Least accepted value, in `unit`. */
  min?: number;
  /** Greatest accepted value, in `unit`. */
  max?: number;
  /** The unit of `min` and `max`. */
  unit?: Unit;
  /** What, where a range does not say it. */
  code?: AcceptedCode;
  /** The reader's own English words, with `AcceptedCode::OtherText` and `AcceptedCode::ThisSchema`. */
  words?: string;
}

/** What is accepted where a range does not say it: a key for whoever words it in another language. */
export type AcceptedCode =
  /** Any value: one is needed. */
  | 'a_value'
  /** This schema's name or version. */
  | 'this_schema'
  /** What the reader of the text expected; the words say it. */
  | 'other_text'
  /** The half width, the depth, or both. */
  | 'width_depth_or_both'
  /** Only with a round, a scoop or a boat neck. */
  | 'only_round_scoop_boat'
  /** Only with a square neck. */
  | 'only_square'
  /** Only with a V. */
  | 'only_v'
  /** A path in SVG's syntax. */
  | 'path_syntax'
  /** One open run of at least `min` and at most `max` segments. */
  | 'one_open_run'
  /** Coordinates near the neck point. */
  | 'coordinates_near'
  /** A path from the centre line out to the neck point, which lies above it. */
  | 'centre_to_neck'
  /** A path that stays on its own side of the centre line. */
  | 'one_side'
  /** A path that does not cross itself. */
  | 'no_crossing'
  /** A path that does not fold back on itself. */
  | 'no_fold'
  /** Smaller allowances, or a larger or gentler outline. */
  | 'smaller_allowances'
  /** A narrower facing, or another finish. */
  | 'narrower_facing'
  /** A narrower bound edge, or another finish. */
  | 'narrower_bound';
