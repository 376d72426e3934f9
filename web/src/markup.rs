//! Markup put together from pieces, every text and attribute value escaped.

/// Markup under construction.
#[derive(Debug, Default)]
pub(crate) struct Markup {
    html: String,
}

impl Markup {
    /// Opens an element.
    pub(crate) fn open(&mut self, tag: &str, attributes: &[(&str, &str)]) {
        self.html.push('<');
        self.html.push_str(tag);
        for (name, value) in attributes {
            self.html.push(' ');
            self.html.push_str(name);
            self.html.push_str("=\"");
            self.text(value);
            self.html.push('"');
        }
        self.html.push('>');
    }

    /// Closes an element.
    pub(crate) fn close(&mut self, tag: &str) {
        self.html.push_str("</");
        self.html.push_str(tag);
        self.html.push('>');
    }

    /// Text, escaped.
    pub(crate) fn text(&mut self, text: &str) {
        for c in text.chars() {
            match c {
                '&' => self.html.push_str("&amp;"),
                '<' => self.html.push_str("&lt;"),
                '>' => self.html.push_str("&gt;"),
                '"' => self.html.push_str("&quot;"),
                '\'' => self.html.push_str("&#39;"),
                other => self.html.push(other),
            }
        }
    }

    /// An element with text in it.
    pub(crate) fn leaf(&mut self, tag: &str, attributes: &[(&str, &str)], text: &str) {
        self.open(tag, attributes);
        self.text(text);
        self.close(tag);
    }

    /// A list of texts.
    pub(crate) fn list(&mut self, items: &[String]) {
        self.open("ul", &[]);
        for item in items {
            self.leaf("li", &[], item);
        }
        self.close("ul");
    }

    /// A table of texts, the first cell of each row its heading.
    pub(crate) fn table(&mut self, caption: &str, heads: &[&str], rows: &[Vec<String>]) {
        self.open("table", &[]);
        self.leaf("caption", &[], caption);
        self.open("thead", &[]);
        self.open("tr", &[]);
        for head in heads {
            self.leaf("th", &[("scope", "col")], head);
        }
        self.close("tr");
        self.close("thead");
        self.open("tbody", &[]);
        for row in rows {
            self.open("tr", &[]);
            for (column, cell) in row.iter().enumerate() {
                if column == 0 {
                    self.leaf("th", &[("scope", "row")], cell);
                } else {
                    self.leaf("td", &[], cell);
                }
            }
            self.close("tr");
        }
        self.close("tbody");
        self.close("table");
    }

    /// The markup as text.
    pub(crate) fn finish(self) -> String {
        self.html
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_and_attributes_are_escaped() {
        let mut m = Markup::default();
        m.leaf("p", &[("title", "a\"b")], "<script>&'");
        assert_eq!(m.finish(), "<p title=\"a&quot;b\">&lt;script&gt;&amp;&#39;</p>", "nothing typed becomes markup");
    }
}
