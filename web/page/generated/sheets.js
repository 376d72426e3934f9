// Generated of the core's types by `cargo run -p lieflat-tests --example generate`: not to be edited.
// What may be chosen about the sheets, by its type in web/sheets/src/options.rs.

export const Sheet = /** @type {const} */ (['card', 'strip', 'facing', 'template']);
export const Paper = /** @type {const} */ (['a4', 'letter']);
export const StripForm = /** @type {const} */ (['auto', 'whole', 'half']);
export const PieceForm = /** @type {const} */ (['svg', 'dxf_r12', 'dxf_r2000']);
