//! What kind of file it is, by what stands in it.

use crate::messages::{Kind, Refused};

/// How far a PDF's header may stand from the beginning, bytes: readers look for it there (ISO 32000-1, annex H.3).
const HEADER_WITHIN: usize = 1024;

/// Tells a file's kind.
///
/// # Errors
/// A [`Refused`] where it is none that can be read: a picture, a binary DXF, anything else.
pub(crate) fn kind(bytes: &[u8]) -> Result<Kind, Refused> {
    let head = bytes.get(..HEADER_WITHIN.min(bytes.len())).unwrap_or_default();
    if bytes.is_empty() {
        return Err(Refused::NoLines);
    }
    if head.windows(5).any(|five| five == b"%PDF-") {
        return Ok(Kind::Pdf);
    }
    if head.starts_with(b"AutoCAD Binary DXF") {
        return Err(Refused::BinaryDxf);
    }
    if is_picture(head) {
        return Err(Refused::Picture);
    }
    let text = text(head.to_vec());
    let start = text.trim_start();
    if start.starts_with('<') {
        return Ok(Kind::Svg);
    }
    // A DXF begins with a group code on a line of its own: 0 for its first section, 999 for a remark.
    let first = start.lines().next().unwrap_or_default().trim();
    if matches!(first, "0" | "999") { Ok(Kind::Dxf) } else { Err(Refused::OtherKind) }
}

/// Pictures by their first bytes: JPEG, PNG, GIF, WebP, TIFF, BMP and those kept in boxes, such as HEIC and AVIF.
fn is_picture(head: &[u8]) -> bool {
    let starts: [&[u8]; 6] = [b"\xff\xd8\xff", b"\x89PNG", b"GIF8", b"II*\0", b"MM\0*", b"BM"];
    let later = |at: usize, wanted: &[u8]| head.get(at..at + wanted.len()) == Some(wanted);
    let boxed =
        later(4, b"ftyp") && ["heic", "heix", "mif1", "avif", "msf1"].iter().any(|brand| later(8, brand.as_bytes()));
    starts.iter().any(|start| head.starts_with(start)) || (head.starts_with(b"RIFF") && later(8, b"WEBP")) || boxed
}

/// Text in pairs of bytes, in either order of the two.
pub(crate) fn utf16(bytes: &[u8], from: fn([u8; 2]) -> u16) -> String {
    let units: Vec<u16> = bytes.chunks_exact(2).filter_map(|pair| Some(from(pair.try_into().ok()?))).collect();
    String::from_utf16_lossy(&units)
}

/// A file's bytes as text: UTF-8 or UTF-16 by its mark; bytes that are no letters become question marks in boxes.
pub(crate) fn text(bytes: Vec<u8>) -> String {
    match bytes.as_slice() {
        [0xff, 0xfe, rest @ ..] => return utf16(rest, u16::from_le_bytes),
        [0xfe, 0xff, rest @ ..] => return utf16(rest, u16::from_be_bytes),
        _ => {}
    }
    let mut text = String::from_utf8(bytes).unwrap_or_else(|e| String::from_utf8_lossy(e.as_bytes()).into_owned());
    if text.starts_with('\u{feff}') {
        text.remove(0);
    }
    text
}
