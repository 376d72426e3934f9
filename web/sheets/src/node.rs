//! Reading JSON by names: what is missing or of another kind reads as nothing, and the reader says what that means.
//!
//! Brief and plan come from the page's own core, which has checked them. Reading them so, and not into the core's
//! types, keeps the module to a fraction of the size.

use serde_json::Value;

use crate::ink::Point;

/// A value at some place.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Node<'a>(Option<&'a Value>);

impl<'a> Node<'a> {
    pub(crate) const fn new(value: &'a Value) -> Self {
        Self(Some(value))
    }

    /// The value under a name.
    pub(crate) fn at(self, name: &str) -> Self {
        Self(self.0.and_then(|value| value.get(name)))
    }

    /// The value at a dotted path of names.
    pub(crate) fn path(self, names: &str) -> Self {
        names.split('.').fold(self, Self::at)
    }

    pub(crate) fn is_there(self) -> bool {
        matches!(self.0, Some(value) if !value.is_null())
    }

    pub(crate) fn number(self) -> Option<f64> {
        self.0.and_then(Value::as_f64)
    }

    /// A length or another number under a name; 0 where there is none.
    pub(crate) fn mm(self, name: &str) -> f64 {
        self.at(name).number().unwrap_or(0.0)
    }

    pub(crate) fn count(self, name: &str) -> u64 {
        self.at(name).whole().unwrap_or(0)
    }

    /// A whole number that is not negative.
    pub(crate) fn whole(self) -> Option<u64> {
        self.0.and_then(Value::as_u64)
    }

    /// An object's values by their names.
    pub(crate) fn fields(self) -> impl Iterator<Item = (&'a str, Self)> {
        let fields = self.0.and_then(Value::as_object);
        fields.into_iter().flatten().map(|(name, value)| (name.as_str(), Self::new(value)))
    }

    pub(crate) fn flag(self, name: &str) -> bool {
        self.at(name).0.and_then(Value::as_bool).unwrap_or(false)
    }

    pub(crate) fn text(self) -> Option<&'a str> {
        self.0.and_then(Value::as_str)
    }

    /// A code under a name; empty where there is none.
    pub(crate) fn code(self, name: &str) -> String {
        self.at(name).text().unwrap_or_default().to_owned()
    }

    pub(crate) fn items(self) -> impl Iterator<Item = Self> {
        self.0.and_then(Value::as_array).into_iter().flatten().map(Self::new)
    }

    /// A choice: plain text, or an object whose one name says what was chosen.
    pub(crate) fn choice(self) -> Option<(&'a str, Self)> {
        if let Some(text) = self.text() {
            return Some((text, Self(None)));
        }
        let (name, value) = self.0?.as_object()?.iter().next()?;
        Some((name, Self::new(value)))
    }

    pub(crate) fn point(self) -> Option<Point> {
        let mut two = self.items().filter_map(Self::number);
        Some([two.next()?, two.next()?])
    }

    pub(crate) fn points(self, name: &str) -> Vec<Point> {
        self.at(name).as_points()
    }

    /// This value as a run of points.
    pub(crate) fn as_points(self) -> Vec<Point> {
        self.items().filter_map(Self::point).collect()
    }

    pub(crate) fn numbers(self, name: &str) -> Vec<f64> {
        self.at(name).items().filter_map(Self::number).collect()
    }
}
