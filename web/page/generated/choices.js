// Generated of the core's types by `cargo run -p lieflat-tests --example generate`: not to be edited.
// What may be chosen, by its type in types/brief.d.ts.

export const ReadingsAt = /** @type {const} */ (['cut_edge', 'seam_line']);
export const Outline = /** @type {const} */ (['measured', 'drafted', 'drawn']);
export const ShapeKind = /** @type {const} */ (['round', 'scoop', 'v', 'square', 'boat']);
export const Centre = /** @type {const} */ (['fold', 'seam']);
export const Stretch = /** @type {const} */ (['readings', 'percent']);
export const KnitKind = /** @type {const} */ (['jersey', 'rib', 'interlock']);
export const SewnFinish = /** @type {const} */ (['band', 'tape', 'bound']);
export const SewnOutcome = /** @type {const} */ (['lay_flat', 'stood_away', 'pulled_in']);
export const Direction = /** @type {const} */ (['crosswise', 'lengthwise', 'diagonal']);
export const Finish = /** @type {const} */ (['band', 'bound', 'tape', 'facing']);
export const Layers = /** @type {const} */ (['folded', 'single']);
export const PointFinish = /** @type {const} */ (['mitre', 'lap']);
export const Stitch = /** @type {const} */ (['straight', 'zigzag', 'overlock']);
export const HeadGirth = /** @type {const} */ (['own_mm', 'adult', 'child']);
export const AdultGroup = /** @type {const} */ (['women', 'men']);
export const ChildGroup = /** @type {const} */ (['girls', 'boys']);
export const EdgePart = /** @type {const} */ (['centre_front_seam', 'centre_back_seam', 'shoulder', 'gathered', 'other']);
export const Rounding = /** @type {const} */ (['millimetre', 'eighth_inch', 'sixteenth_inch']);
