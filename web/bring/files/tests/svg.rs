//! SVG as it is written by hand: units, transforms, shapes, `use`, styles and layers, by closed forms.

use kurbo::ParamCurveArclen;
use lieflat_bring::Drawing;
use lieflat_files::messages::Refused;
use lieflat_files::svg::read;

fn length(drawing: &Drawing, line: usize) -> f64 {
    drawing.lines[line].path.segments().map(|s| s.arclen(1e-9)).sum::<f64>() * drawing.mm_per_unit.unwrap_or(1.0)
}

fn assert_near(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 0.001, "{found} is to be {wanted}");
}

fn drawn(svg: &str) -> Drawing {
    read(svg).unwrap_or_else(|refused| panic!("{refused:?}: {svg}"))
}

const TAU: f64 = core::f64::consts::TAU;

#[test]
fn physical_units_scale_the_view_box() {
    // CSS Values 3: 1in = 2.54cm = 96px, 1pt = 1/72in, 1pc = 12pt, 1Q = 1/40cm.
    for (width, mm) in
        [("100mm", 100.0), ("10cm", 100.0), ("4in", 101.6), ("72pt", 25.4), ("6pc", 25.4), ("400Q", 100.0)]
    {
        let drawing = drawn(&format!("<svg width='{width}' viewBox='5 5 50 50'><path d='M5 5h50'/></svg>"));
        assert_eq!(drawing.mm_per_unit, Some(1.0), "{width}");
        assert_near(length(&drawing, 0), mm);
    }
}

#[test]
fn without_a_physical_unit_the_scale_is_not_known() {
    for root in
        ["<svg viewBox='0 0 50 50'>", "<svg width='50' height='50px'>", "<svg width='100%' viewBox='0 0 50 50'>"]
    {
        let drawing = drawn(&format!("{root}<path d='M0 0h50'/></svg>"));
        assert_eq!(drawing.mm_per_unit, None, "{root}");
        assert_near(length(&drawing, 0), 50.0);
    }
}

#[test]
fn without_a_view_box_a_user_unit_is_a_pixel_of_css() {
    let drawing = drawn("<svg width='200mm' height='100mm'><path d='M0 0h96'/><line x1='1cm' x2='30mm'/></svg>");
    assert_near(length(&drawing, 0), 25.4);
    assert_near(length(&drawing, 1), 20.0);
}

#[test]
fn transforms_go_from_the_inside_out() {
    let turned = "<g transform='translate(10,5) rotate(90)'><g transform='scale(2 3)'><path d='M0 0L10 0'/></g></g>";
    let drawing = drawn(&format!("<svg width='100mm' viewBox='0 0 100 100'>{turned}</svg>"));
    let [from, to] = drawing.lines[0].ends().expect("a line has ends");
    assert!(from.distance((10.0, 5.0).into()) < 1e-9 && to.distance((10.0, 25.0).into()) < 1e-9, "{from:?} {to:?}");
    // A skew by 45 degrees moves what is 10 down by 10 across; a matrix by hand.
    let skewed = "<path transform='skewX(45)' d='M0 0V10'/><path transform='matrix(0 1 -1 0 0 0)' d='M3 0H10'/>";
    let drawing = drawn(&format!("<svg width='100mm' viewBox='0 0 100 100'>{skewed}</svg>"));
    assert_near(length(&drawing, 0), 200f64.sqrt());
    assert_near(length(&drawing, 1), 7.0);
}

#[test]
fn round_shapes_have_their_closed_lengths() {
    let shapes =
        "<circle cx='50' cy='50' r='30'/><path d='M0 80A80 80 0 0 0 80 0'/><rect width='60' height='40' rx='10'/>
        <path d='m20 50a30 30 0 1 1 60 0z'/><ellipse rx='70' ry='70'/><polygon points='0,0 30,0 30,40'/>
        <path d='M0 0A1e-3 1e-3 0 0 1 20 0'/>";
    let drawing = drawn(&format!("<svg width='100mm' viewBox='0 0 100 100' stroke='red'>{shapes}</svg>"));
    let quarter = 80.0 * TAU / 4.0;
    let wanted = [
        30.0 * TAU,
        quarter,
        2.0 * (40.0 + 20.0) + 10.0 * TAU,
        30.0 * TAU / 2.0 + 60.0,
        70.0 * TAU,
        120.0,
        10.0 * TAU / 2.0,
    ];
    for (line, wanted) in wanted.into_iter().enumerate() {
        assert_near(length(&drawing, line), wanted);
    }
    // In a drawing whose unit is a centimetre an arc is as exact.
    let drawing = drawn("<svg width='100cm' viewBox='0 0 100 100' stroke='red'><path d='M0 8A8 8 0 0 0 8 0'/></svg>");
    assert_near(length(&drawing, 0), quarter);
}

#[test]
fn path_data_may_be_written_tightly() {
    // SVG 2, 9.3.9: flags without spaces, numbers parted by their points and signs, commands understood.
    let drawing = drawn(
        "<svg width='100mm' viewBox='0 0 100 100' stroke='red'><path d='M0 0 30 0 30 40zm.5.5-3-4M0 0a5 5 0 1110 0'/></svg>",
    );
    for (line, wanted) in [120.0, 5.0, 5.0 * TAU / 2.0].into_iter().enumerate() {
        assert_near(length(&drawing, line), wanted);
    }
}

#[test]
fn filling_closes_what_it_fills() {
    // SVG 2, 11.4: an open subpath is filled as if it were closed. Legs of 30 and 40, and the way back of 50.
    let drawing = drawn("<svg width='100mm' viewBox='0 0 100 100'><path d='M0 0H30V40'/></svg>");
    assert_near(length(&drawing, 0), 120.0);
    assert!(drawing.lines[0].is_closed());
    let drawing =
        drawn("<svg width='100mm' viewBox='0 0 100 100'><path fill='none' stroke='red' d='M0 0H30V40'/></svg>");
    assert_near(length(&drawing, 0), 70.0);
}

#[test]
fn whatever_moves_or_sizes_is_followed_or_refused() {
    let line = "<path stroke='red' d='M0 0H50'/>";
    let symbol = format!("<symbol id='s' transform='scale(2)'>{line}</symbol><use href='#s'/>");
    // SVG 2, 8.5 and CSS 2.1, 4.1: a transform on any element, names in any letters, comments between declarations; a style's own
    // measure goes over the attribute's; beside millimetres a pixel is 1/96 inch.
    for (svg, wanted) in [
        (format!("<svg width='100mm' viewBox='0 0 100 100' transform='scale(2)'>{line}</svg>"), 100.0),
        (format!("<svg width='100mm' viewBox='0 0 100 100'>{symbol}</svg>"), 100.0),
        (
            format!("<svg width='100mm' viewBox='0 0 100 100'><g style='/* a */ TRANSFORM:scale(3)'>{line}</g></svg>"),
            150.0,
        ),
        (
            format!(
                "<svg width='100mm' height='100mm' style='width:200mm;height:200mm' viewBox='0 0 100 100'>{line}</svg>"
            ),
            100.0,
        ),
        (format!("<svg width='100mm' height='96' viewBox='0 0 100 100'>{line}</svg>"), 12.7),
    ] {
        assert_near(length(&drawn(&svg), 0), wanted);
    }
    for unread in [
        format!("<svg viewBox='0 0 9 9'><g style='scale:2'>{line}</g></svg>"),
        format!("<svg viewBox='0 0 9 9'><g style='rotate:30deg'>{line}</g></svg>"),
        format!("<svg viewBox='0 0 9 9'><style>.l path{{transform:scale(2)}}</style><g class='l'>{line}</g></svg>"),
    ] {
        let found = read(&unread).expect_err(&unread);
        assert!(matches!(found, Refused::Broken | Refused::BrokenAt { .. }), "{unread}: {found:?}");
    }
    // Known by its longer side alone, a picture that is stretched is so both ways.
    let stretched = "<svg width='260' height='1040' viewBox='0 0 260 520' preserveAspectRatio='none'>";
    let drawing = drawn(&format!("{stretched}<path stroke='red' d='M0 0V50'/>{line}</svg>"));
    assert_near(length(&drawing, 0), 100.0);
    assert_near(length(&drawing, 1), 50.0);
}

#[test]
fn what_cannot_be_read_whole_is_not_cut_short() {
    let elements = [
        "<path d='M0 0L30 40L9 x'/>",
        "<path d='M0 0C1 1 2 2 3 3;C4 4 5 5 6 6'/>",
        "<polyline points='0,0 30,40 9'/>",
        "<polygon points='0,0 30,40 x,9'/>",
        "<line x1='0' y1='0' x2='3em' y2='4'/>",
        "<circle r='10 mm long'/>",
        "<g transform='rotate(45'><path d='M0 0h9'/></g>",
        "<g transform='turn(45)'><path d='M0 0h9'/></g>",
        "<path style='transform: scale(2vw)' d='M0 0h9'/>",
    ];
    for element in elements {
        let text = format!("<svg viewBox='0 0 9 9'>\n{element}</svg>");
        assert_eq!(read(&text).expect_err(element), Refused::BrokenAt { line: 2 }, "{element}");
    }
    let nothing = "<svg viewBox='0 0 9 9'><path d='none'/><rect width='9' height='9' rx='auto'/></svg>";
    assert_eq!(drawn(nothing).lines.len(), 1, "what SVG 2 has a word for is no mistake");
}

#[test]
fn a_style_moves_what_an_attribute_would_move_and_nothing_inherits_it() {
    // CSS Transforms 1, 6: a style's transform goes over the attribute's.
    let moved = |element: &str| {
        let drawing = drawn(&format!("<svg width='100mm' viewBox='0 0 100 100'>{element}</svg>"));
        length(&drawing, 0)
    };
    assert_near(moved("<path style='transform: scale(2) rotate(30deg) translate(4px, 1px)' d='M0 0h9'/>"), 18.0);
    assert_near(moved("<path style='transform:scale(2)' transform='scale(7)' d='M0 0h9'/>"), 18.0);
    assert_near(moved("<g style='transform:scale(2)'><path d='M0 0h9'/></g>"), 18.0);
    assert_near(moved("<path style='transform:none' transform='scale(7)' d='M0 0h9'/>"), 9.0);
}

#[test]
fn use_shows_a_thing_again_in_its_place() {
    let parts = "<defs><path id='a' d='M0 0h10'/><symbol id='b' viewBox='0 0 10 10'><path d='M0 0h10'/></symbol></defs>
        <use href='#a' x='5' y='7'/><use xlink:href='#b' width='20' height='20' x='1'/><use href='#nothing'/>";
    let drawing = drawn(&format!(
        "<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink' width='100mm' viewBox='0 0 100 100'>{parts}</svg>"
    ));
    assert_eq!(drawing.lines.len(), 2, "what is defined is drawn only where it is used");
    let [from, _] = drawing.lines[0].ends().expect("a line has ends");
    assert!(from.distance((5.0, 7.0).into()) < 1e-9, "moved: {from:?}");
    assert_near(length(&drawing, 1), 20.0);
}

#[test]
fn layers_are_groups_by_title_or_id_and_what_is_not_shown_is_read() {
    let groups = "<g id='everything'><g id='g1'><title>Size 10</title><path d='M0 0h10'/></g>
        <g id='size-12' style='display:none'><g id='inner'><path d='M0 0h20'/></g></g></g>";
    let drawing = drawn(&format!("<svg width='100mm' viewBox='0 0 100 100'>{groups}</svg>"));
    let told: Vec<_> = drawing.layers.iter().map(|layer| (layer.name.as_str(), layer.on)).collect();
    assert_eq!(told, [("Size 10", true), ("size-12", false)], "layers by name, on and off");
    let layers: Vec<_> = drawing.lines.iter().map(|line| line.layer).collect();
    assert_eq!(layers, [Some(0), Some(1)], "each line on its own");
}

#[test]
fn styles_come_of_attributes_classes_and_inheritance() {
    let styles = "<style>/* sizes */ .a, .b { stroke: #00f } .b{stroke-dasharray:4 2} #c { stroke:rgb(0,128,0) } @media print {.a{stroke:red}}</style>
        <g stroke='red' stroke-width='2'><path class='a' d='M0 0h9'/><path class='x b' d='M0 0h9'/><path id='c' class='a' d='M0 0h9'/>
        <path d='M0 0h9'/><path style='stroke:none;fill:none' d='M0 0h9'/></g>";
    let drawing = drawn(&format!("<svg width='200mm' viewBox='0 0 100 100'>{styles}</svg>"));
    let told: Vec<_> = drawing
        .lines
        .iter()
        .map(|line| &drawing.styles[line.style])
        .map(|s| (s.colour, s.width, s.dash.clone()))
        .collect();
    let wanted = [
        ([0, 0, 255], 4.0, vec![]),
        ([0, 0, 255], 4.0, vec![8.0, 4.0]),
        ([0, 128, 0], 4.0, vec![]),
        ([255, 0, 0], 4.0, vec![]),
    ];
    assert_eq!(told, wanted, "in the drawing's units; what is painted in no way is no line");
}

#[test]
fn what_cannot_be_read_is_refused_with_its_reason() {
    let cases = [
        ("<html><body/></html>", Refused::OtherKind),
        ("<svg viewBox='0 0 9 9'><text>Front</text></svg>", Refused::NoLines),
        ("<svg viewBox='0 0 9 9'><image href='scan.png' width='9' height='9'/></svg>", Refused::ScanOnly),
        ("<svg viewBox='0 0 9 9'><path d='M0 0h9'/>", Refused::CutShort),
        ("<svg viewBox='0 0 9 9'>\n<path d='M0 0h9'></svg>", Refused::BrokenAt { line: 2 }),
    ];
    for (text, wanted) in cases {
        assert_eq!(read(text).expect_err("it is refused"), wanted, "{text}");
    }
}

#[test]
fn loops_and_bombs_of_use_are_refused() {
    let doubled: String =
        (1..40).map(|i| format!("<g id='l{i}'><use href='#l{}'/><use href='#l{}'/></g>", i - 1, i - 1)).collect();
    let deep = "<g>".repeat(3000) + "<path d='M0 0h9'/>" + &"</g>".repeat(3000);
    let looped = "<g id='a'><use href='#a'/></g>".to_owned();
    for inside in [format!("<path id='l0' d='M0 0h9'/>{doubled}"), looped, deep] {
        let refused = read(&format!("<svg viewBox='0 0 9 9'>{inside}</svg>")).expect_err("it is refused");
        assert!(matches!(refused, Refused::TooMuch { .. }), "{refused:?}");
    }
    // An entity of entities of entities, as the billion laughs.
    let entities: String =
        (1..12).map(|i| format!("<!ENTITY l{i} '{}'>", format!("&l{};", i - 1).repeat(10))).collect();
    let laughs =
        format!("<!DOCTYPE svg [<!ENTITY l0 '<path d=\"M0 0h9\"/>'>{entities}]><svg viewBox='0 0 9 9'>&l11;</svg>");
    assert!(read(&laughs).is_err(), "it is refused");
}
