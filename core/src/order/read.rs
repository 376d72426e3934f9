//! Reading a step of the work back from its JSON, where its figures stand beside its other fields.

use core::fmt;

use serde::de::{Error, MapAccess, Visitor};
use serde::{Deserialize, Deserializer};

use super::step::{SewingStep, StepFigure};

impl<'de> Deserialize<'de> for SewingStep {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        from.deserialize_map(Fields)
    }
}

struct Fields;

impl<'de> Visitor<'de> for Fields {
    type Value = SewingStep;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a step of the work")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut fields: A) -> Result<SewingStep, A::Error> {
        let (mut step, mut source) = (None, None);
        let (mut count, mut direction, mut at, mut places) = (None, None, None, None);
        let (mut figures, mut zones, mut cautions) = (Vec::new(), Vec::new(), Vec::new());
        while let Some(name) = fields.next_key::<String>()? {
            match name.as_str() {
                "step" => step = Some(fields.next_value()?),
                "source" => source = Some(fields.next_value()?),
                "count" => count = Some(fields.next_value()?),
                "direction" => direction = Some(fields.next_value()?),
                "at" => at = Some(fields.next_value()?),
                "places" => places = Some(fields.next_value()?),
                "zones" => zones = fields.next_value()?,
                "cautions" => cautions = fields.next_value()?,
                name => {
                    let figure = StepFigure::ALL.into_iter().find(|figure| figure.name() == name);
                    let figure = figure.ok_or_else(|| A::Error::unknown_field(name, &[]))?;
                    figures.push((figure, fields.next_value()?));
                }
            }
        }
        let step = step.ok_or_else(|| A::Error::missing_field("step"))?;
        let source = source.ok_or_else(|| A::Error::missing_field("source"))?;
        Ok(SewingStep { step, source, count, direction, at, figures, places, zones, cautions })
    }
}
