//! How large a picture says it is, from the first of its bytes: so that one with too many pixels is refused before it is unpacked.

/// Width and height as a PNG or JPEG file tells them; nothing for other kinds, or where it is not told.
///
/// PNG: the first chunk, IHDR (W3C PNG, 11.2.1). JPEG: the frame header, a marker SOF0 to SOF15 but for 4, 8 and 12 (ITU-T T.81,
/// B.1.1.3 and B.2.2).
#[must_use]
pub fn told_size(bytes: &[u8]) -> Option<(u32, u32)> {
    match bytes {
        [0x89, b'P', b'N', b'G', 0x0D, 0x0A, 0x1A, 0x0A, _, _, _, _, b'I', b'H', b'D', b'R', rest @ ..] => {
            Some((long(rest)?, long(rest.get(4..)?)?))
        }
        [0xFF, 0xD8, rest @ ..] => frame(rest),
        _ => None,
    }
}

fn long(bytes: &[u8]) -> Option<u32> {
    bytes.first_chunk().map(|four| u32::from_be_bytes(*four))
}

fn short(bytes: &[u8]) -> Option<u16> {
    bytes.first_chunk().map(|two| u16::from_be_bytes(*two))
}

/// The size in a JPEG's frame header, past the segments before it.
fn frame(mut bytes: &[u8]) -> Option<(u32, u32)> {
    loop {
        let [0xFF, marker, rest @ ..] = bytes else { return None };
        match marker {
            // A marker may be filled up with more of the same.
            0xFF => bytes = bytes.get(1..)?,
            // Markers that stand alone.
            0x01 | 0xD0..=0xD8 => bytes = rest,
            0xC0..=0xC3 | 0xC5..=0xC7 | 0xC9..=0xCB | 0xCD..=0xCF => {
                let (height, width) = (short(rest.get(3..)?)?, short(rest.get(5..)?)?);
                return Some((u32::from(width), u32::from(height)));
            }
            _ => bytes = rest.get(usize::from(short(rest)?)..)?,
        }
    }
}
