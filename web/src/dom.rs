//! The page's elements, asked for by name; whatever is missing is passed over in silence.

use wasm_bindgen::JsCast;
use web_sys::{Document, Element, HtmlInputElement, HtmlSelectElement, Window};

/// The window and its document.
#[derive(Debug, Clone)]
pub(crate) struct Dom {
    /// The window.
    pub(crate) window: Window,
    /// Its document.
    pub(crate) document: Document,
}

impl Dom {
    /// The page's own window, where there is one.
    pub(crate) fn find() -> Option<Self> {
        let window = web_sys::window()?;
        let document = window.document()?;
        Some(Self { window, document })
    }

    /// An element by its id.
    pub(crate) fn by_id(&self, id: &str) -> Option<Element> {
        self.document.get_element_by_id(id)
    }

    /// A text input by its id.
    pub(crate) fn input(&self, id: &str) -> Option<HtmlInputElement> {
        self.by_id(id)?.dyn_into().ok()
    }

    /// What stands in a text input or is chosen in a select; empty where there is neither.
    pub(crate) fn value(&self, id: &str) -> String {
        let Some(element) = self.by_id(id) else { return String::new() };
        if let Some(select) = element.dyn_ref::<HtmlSelectElement>() {
            return select.value();
        }
        element.dyn_ref::<HtmlInputElement>().map(HtmlInputElement::value).unwrap_or_default()
    }

    /// Chooses a select's option.
    pub(crate) fn choose(&self, id: &str, value: &str) {
        if let Some(select) = self.by_id(id).and_then(|e| e.dyn_into::<HtmlSelectElement>().ok()) {
            select.set_value(value);
        }
    }

    /// Replaces an element's text.
    pub(crate) fn set_text(&self, id: &str, text: &str) {
        if let Some(element) = self.by_id(id) {
            element.set_text_content(Some(text));
        }
    }

    /// Replaces an element's content by markup made by [`crate::markup::Markup`]; hides the element where it is empty.
    pub(crate) fn set_markup(&self, id: &str, markup: &str) {
        if let Some(element) = self.by_id(id) {
            element.set_inner_html(markup);
            set_hidden(&element, markup.is_empty());
        }
    }

    /// Shows or hides an element.
    pub(crate) fn show(&self, id: &str, shown: bool) {
        if let Some(element) = self.by_id(id) {
            set_hidden(&element, !shown);
        }
    }

    /// All elements a selector matches.
    pub(crate) fn all(&self, selector: &str) -> Vec<Element> {
        let Ok(nodes) = self.document.query_selector_all(selector) else { return Vec::new() };
        (0..nodes.length()).filter_map(|i| nodes.item(i)?.dyn_into().ok()).collect()
    }

    /// A setting kept by the browser, where it lets us.
    pub(crate) fn remembered(&self, key: &str) -> Option<String> {
        self.window.local_storage().ok()??.get_item(key).ok()?
    }

    /// Keeps a setting, where the browser lets us.
    pub(crate) fn remember(&self, key: &str, value: &str) {
        if let Ok(Some(storage)) = self.window.local_storage() {
            // A full or forbidden store loses a convenience and nothing else.
            let _ = storage.set_item(key, value);
        }
    }
}

/// Sets or removes an attribute.
pub(crate) fn set_flag(element: &Element, name: &str, value: Option<&str>) {
    // Neither call can fail for the names used here.
    let _ = match value {
        Some(value) => element.set_attribute(name, value),
        None => element.remove_attribute(name),
    };
}

/// Sets or removes the `hidden` attribute.
pub(crate) fn set_hidden(element: &Element, hidden: bool) {
    set_flag(element, "hidden", hidden.then_some(""));
}
