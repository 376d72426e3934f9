//! Layers: what ISO 32000 calls optional content.

use hayro_syntax::object::{Array, Dict, Name, ObjectIdentifier, String as PdfString};
use lieflat_bring::Drawing;

use crate::kind::utf16;

/// Most groups that one membership names.
const MOST_GROUPS: usize = 100;

/// Which layers are off as the file is opened.
#[derive(Debug, Default)]
pub(super) struct Layers {
    /// Whether a layer is on that no list names.
    on: bool,
    turned: Vec<ObjectIdentifier>,
}

impl Layers {
    /// As the catalogue's default says.
    pub(super) fn of(catalog: Option<&Dict<'_>>) -> Self {
        let default =
            catalog.and_then(|root| root.get::<Dict<'_>>("OCProperties")).and_then(|all| all.get::<Dict<'_>>("D"));
        let Some(default) = default else { return Self { on: true, turned: Vec::new() } };
        let on = default.get::<Name<'_>>("BaseState").is_none_or(|state| state.as_str() != "OFF");
        let list = default.get::<Array<'_>>(if on { "OFF" } else { "ON" });
        let refs = list.map(|list| list.raw_iter().filter_map(|item| Some(item.as_obj_ref()?.into())).collect());
        Self { on, turned: refs.unwrap_or_default() }
    }

    /// The layer's place in the drawing that an optional content group, or a membership of some, stands for.
    pub(super) fn layer(
        &self,
        drawing: &mut Drawing,
        content: &Dict<'_>,
        id: Option<ObjectIdentifier>,
    ) -> Option<usize> {
        if let Some(name) = content.get::<PdfString<'_>>("Name") {
            let is_turned = id.or(content.obj_id()).is_some_and(|id| self.turned.contains(&id));
            return Some(drawing.layer(&text(name.as_bytes()), self.on != is_turned));
        }
        // A membership: the first of its groups that has a name.
        let named = |group: &Dict<'_>| group.contains_key("Name");
        if let Some(group) = content.get::<Dict<'_>>("OCGs").filter(named) {
            return self.layer(drawing, &group, content.get_ref("OCGs").map(Into::into));
        }
        let groups = content.get::<Array<'_>>("OCGs")?;
        let mut listed = groups.raw_iter().take(MOST_GROUPS);
        for group in groups.iter::<Dict<'_>>().take(MOST_GROUPS) {
            let id = listed.next()?.as_obj_ref().map(ObjectIdentifier::from);
            if named(&group) {
                return self.layer(drawing, &group, id);
            }
        }
        None
    }
}

/// A text of a PDF: UTF-16 or UTF-8 by its mark, else by its own encoding, whose letters are mostly those of Latin 1.
fn text(bytes: &[u8]) -> String {
    let text = match bytes {
        [0xfe, 0xff, rest @ ..] => utf16(rest, u16::from_be_bytes),
        [0xef, 0xbb, 0xbf, rest @ ..] => String::from_utf8_lossy(rest).into_owned(),
        _ => bytes.iter().map(|b| char::from(*b)).collect(),
    };
    text.chars().filter(|c| !c.is_control()).take(80).collect()
}
