//! The page at work: it watches the form, plans after a pause, and puts the plan or the errors in place.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

use lieflat::Plan;
use lieflat::error::BriefErrors;
use lieflat::length::{LengthUnit, format_length};
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::Closure;
use web_sys::js_sys::Function;
use web_sys::{Event, HtmlElement};

use crate::dom::{Dom, set_flag, set_hidden};
use crate::drawing;
use crate::form::{Place, Reading, length_of, place_of, read};
use crate::markup::Markup;
use crate::show::{Terms, cards, short};

/// Long enough not to scold half a number, short enough to feel at once.
const PAUSE_MS: i32 = 250;
const UNIT_KEY: &str = "lieflat.unit";

/// What the page keeps between two events.
pub(crate) struct Page {
    dom: Dom,
    unit: Cell<LengthUnit>,
    timer: Cell<Option<i32>>,
    shown: RefCell<Option<Shown>>,
}

/// The plan on screen, with what its words need.
struct Shown {
    plan: Plan,
    finish: String,
    places: Vec<Place>,
}

/// An error ready to be put beside its field.
struct Message {
    id: Option<String>,
    text: String,
}

impl Page {
    /// Watches the form and plans what it opens with.
    pub(crate) fn start() -> Option<()> {
        let dom = Dom::find()?;
        let form = dom.by_id("brief")?;
        let page = Rc::new(Self {
            dom,
            unit: Cell::new(LengthUnit::Millimetre),
            timer: Cell::new(None),
            shown: RefCell::new(None),
        });
        if let Some(unit) = page.dom.remembered(UNIT_KEY) {
            page.dom.choose("unit", unit_name(unit_named(&unit)));
        }

        let paused = Rc::clone(&page);
        let on_pause = Closure::<dyn FnMut()>::new(move || {
            paused.timer.set(None);
            paused.update();
        });
        let typing = Rc::clone(&page);
        let on_input = Closure::<dyn FnMut(Event)>::new(move |_: Event| {
            typing.dom.show("example-note", false);
            typing.wait(on_pause.as_ref().unchecked_ref());
        });
        form.add_event_listener_with_callback("input", on_input.as_ref().unchecked_ref()).ok()?;
        on_input.forget();

        let leaving = Rc::clone(&page);
        let on_change = Closure::<dyn FnMut(Event)>::new(move |_: Event| {
            if leaving.stop_waiting() {
                leaving.update();
            }
        });
        form.add_event_listener_with_callback("change", on_change.as_ref().unchecked_ref()).ok()?;
        on_change.forget();

        let on_submit = Closure::<dyn FnMut(Event)>::new(|event: Event| event.prevent_default());
        form.add_event_listener_with_callback("submit", on_submit.as_ref().unchecked_ref()).ok()?;
        on_submit.forget();

        page.update();
        Some(())
    }

    fn wait(&self, then: &Function) {
        self.stop_waiting();
        let timer = self.dom.window.set_timeout_with_callback_and_timeout_and_arguments_0(then, PAUSE_MS);
        self.timer.set(timer.ok());
    }

    /// Whether anything was waited for.
    fn stop_waiting(&self) -> bool {
        let waiting = self.timer.take();
        if let Some(timer) = waiting {
            self.dom.window.clear_timeout_with_handle(timer);
        }
        waiting.is_some()
    }

    /// Reads the form, plans it, and shows what comes of it.
    fn update(&self) {
        self.switch_unit();
        self.show_relevant();
        let reading = read(&self.dom, self.unit.get());
        let planned = lieflat::plan(&reading.brief);
        let messages = self.messages(&reading, planned.as_ref().err());
        self.show_messages(&messages);
        if messages.is_empty()
            && let Ok(plan) = planned
        {
            let shown = Shown { plan, finish: self.dom.value("finish"), places: reading.places };
            if let Ok(mut place) = self.shown.try_borrow_mut() {
                *place = Some(shown);
            }
        }
        self.show_plan(messages.is_empty());
    }

    /// Rewrites every length in a newly chosen unit. The exact length is kept beside the text, so
    /// that switching there and back changes nothing.
    fn switch_unit(&self) {
        let (old, new) = (self.unit.get(), unit_named(&self.dom.value("unit")));
        if old == new {
            return;
        }
        self.unit.set(new);
        self.dom.remember(UNIT_KEY, unit_name(new));
        for element in self.dom.all("input[data-kind=length]") {
            let id = element.id();
            set_flag(&element, "inputmode", Some(if new == LengthUnit::Inch { "text" } else { "decimal" }));
            let (Ok(mm), Some(input)) = (length_of(&self.dom, &id, old), self.dom.input(&id)) else { continue };
            let text = format_length(mm, new);
            input.set_value(&text);
            set_flag(&element, "data-shown", Some(&text));
            set_flag(&element, "data-mm", Some(&mm.to_string()));
        }
        for element in self.dom.all("[data-unit]") {
            element.set_text_content(Some(new.symbol()));
        }
    }

    /// Shows only the fields that the present choices need: `data-when="finish=band|tape head-from=own"`.
    fn show_relevant(&self) {
        for element in self.dom.all("[data-when]") {
            let when = element.get_attribute("data-when").unwrap_or_default();
            let holds = when.split_whitespace().all(|one| {
                one.split_once('=').is_some_and(|(id, values)| {
                    let value = self.dom.value(id);
                    values.split('|').any(|accepted| accepted == value)
                })
            });
            set_hidden(&element, !holds);
        }
    }

    /// Everything wrong, in the order of the form: texts that are no numbers, and the core's errors.
    fn messages(&self, reading: &Reading, errors: Option<&BriefErrors>) -> Vec<Message> {
        let unit = self.unit.get();
        let mut messages: Vec<Message> = Vec::new();
        for unread in &reading.unread {
            let accepted = errors.and_then(|errors| {
                errors
                    .errors
                    .iter()
                    .find(|error| place_of(&reading.places, &error.field).is_some_and(|place| place.id == unread.id))
            });
            let accepted = accepted.map(|error| error.accepted.describe(unit)).filter(|text| !text.is_empty());
            let text = match accepted {
                Some(accepted) => format!("{} Accepted: {accepted}.", unread.message),
                None => unread.message.clone(),
            };
            messages.push(Message { id: Some(unread.id.clone()), text });
        }
        for error in errors.map(|errors| errors.errors.as_slice()).unwrap_or_default() {
            let id = place_of(&reading.places, &error.field).map(|place| place.id.clone());
            let told = id.is_some() && messages.iter().any(|message| message.id == id);
            if !told {
                messages.push(Message { id, text: error.describe(unit) });
            }
        }
        messages
    }

    fn show_messages(&self, messages: &[Message]) {
        for element in self.dom.all("#brief [aria-invalid]") {
            set_flag(&element, "aria-invalid", None);
        }
        for element in self.dom.all("#brief .error") {
            set_hidden(&element, true);
            element.set_text_content(None);
        }
        let mut m = Markup::default();
        if !messages.is_empty() {
            m.leaf("h2", &[], if messages.len() == 1 { "One thing to put right" } else { "Things to put right" });
            m.open("ul", &[]);
        }
        for message in messages {
            m.open("li", &[]);
            match &message.id {
                Some(id) => {
                    self.put_beside(id, &message.text);
                    m.leaf("a", &[("href", &format!("#{id}"))], &format!("{}: {}", self.label(id), message.text));
                }
                None => m.text(&message.text),
            }
            m.close("li");
        }
        if !messages.is_empty() {
            m.close("ul");
        }
        self.dom.set_markup("problems", &m.finish());
    }

    fn put_beside(&self, id: &str, text: &str) {
        let error = format!("{id}-error");
        self.dom.set_text(&error, text);
        self.dom.show(&error, true);
        if let Some(field) = self.dom.by_id(id) {
            set_flag(&field, "aria-invalid", Some("true"));
            if let Ok(Some(details)) = field.closest("details") {
                set_flag(&details, "open", Some(""));
            }
        }
    }

    /// A field's label, without its unit, and the group it stands in.
    fn label(&self, id: &str) -> String {
        let name = self.dom.document.query_selector(&format!("label[for={id}] .name")).ok().flatten();
        let name = name.and_then(|e| e.text_content()).unwrap_or_else(|| id.to_owned());
        let group = self.dom.by_id(id).and_then(|field| field.closest("[data-group]").ok().flatten());
        match group.and_then(|group| group.get_attribute("data-group")) {
            Some(group) => format!("{group}: {name}"),
            None => name,
        }
    }

    /// The words for what a figure's range mostly comes from. The core names readings by what they
    /// say, so a path may leave out the way in which the form asked for it.
    fn figure_label(&self, places: &[Place], path: &str) -> String {
        let knit = path.strip_prefix("strip_knit.");
        match (path, knit) {
            (_, Some("stretch")) => return "stretch of the strip’s knit".to_owned(),
            (_, Some("recovery")) => return "recovery of the strip’s knit".to_owned(),
            ("finish.width_mm", _) => return "finished width".to_owned(),
            ("neckline.front.outline.shape", _) => return "shape taken for the front".to_owned(),
            ("neckline.back.outline.shape", _) => return "shape taken for the back".to_owned(),
            _ => {}
        }
        let (start, end) = path.rsplit_once('.').unwrap_or(("", path));
        let place = places
            .iter()
            .find(|place| place.path.strip_prefix(start).is_some_and(|rest| rest.rsplit('.').next() == Some(end)));
        place.map_or_else(|| path.replace(['.', '_'], " "), |place| self.label(&place.id))
    }

    /// Shows the last good plan; `current` tells whether it is of what the form says now.
    fn show_plan(&self, current: bool) {
        let Ok(shown) = self.shown.try_borrow() else { return };
        let Some(shown) = shown.as_ref() else { return };
        let unit = self.unit.get();
        let label = |path: &str| self.figure_label(&shown.places, path);
        let terms = Terms { unit, finish: &shown.finish, label: &label };
        for (id, markup) in cards(&shown.plan, &terms) {
            self.dom.set_markup(id, &markup);
        }
        self.dom.set_markup("drawing", &drawing::drawing(&shown.plan, unit));
        let short = short(&shown.plan, &terms);
        let line = if current { short } else { format!("Older: {short}") };
        self.dom.set_text("bar-text", &line);
        self.dom.set_text("spoken", &line);
        self.dom.show("bar", true);
        self.dom.show("older", !current);
        if let Some(result) = self.dom.by_id("result").and_then(|e| e.dyn_into::<HtmlElement>().ok()) {
            set_flag(&result, "data-older", (!current).then_some(""));
        }
    }
}

fn unit_named(name: &str) -> LengthUnit {
    match name {
        "cm" => LengthUnit::Centimetre,
        "in" => LengthUnit::Inch,
        _ => LengthUnit::Millimetre,
    }
}

const fn unit_name(unit: LengthUnit) -> &'static str {
    unit.symbol()
}
