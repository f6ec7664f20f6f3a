//! Elements drawn straight into the document, kept up to date by Leptos signals.
//!
//! Invariant: whatever an element needs (effects, listeners) belongs to the
//! reactive owner it was drawn under and goes with it.
//!
//! Why not the `view!` macro: it makes a type for every view, and a page of this
//! size then weighs over 250 kB of compressed wasm; drawn this way it is well
//! under the budget of 150 kB. DEVELOPERS.md has the figures.

use super::device::{clock, js};
pub use super::var::{Derived, Known, Var, derive, memo, memo_by, signal};
use hearthjar::words::joined;
use leptos::prelude::*;
use leptos::reactive::effect::RenderEffect;
use std::any::Any;
use std::pin::Pin;
use wasm_bindgen::{JsCast, JsValue, closure::Closure};
use web_sys::{Document, Element, Node, Text};

/// An element under construction.
#[derive(Clone)]
pub struct El(Element);

thread_local! {
    /// Asked for at every element: looking it up would take longer than making one.
    static DOCUMENT: Option<Document> = web_sys::window().and_then(|window| window.document());
}

fn in_document<T>(make: impl FnOnce(&Document) -> Option<T>) -> Option<T> {
    DOCUMENT.with(|document| make(document.as_ref()?))
}

#[inline(never)]
fn text_node(text: &str) -> Option<Text> {
    in_document(|document| Some(document.create_text_node(text)))
}

/// A new element. An unknown tag cannot happen with the tags used here.
#[inline(never)]
pub fn el(tag: &'static str) -> El {
    made(in_document(|document| document.create_element(tag).ok()))
}

/// A new SVG element.
#[inline(never)]
pub fn svg(tag: &'static str) -> El {
    let space = Some("http://www.w3.org/2000/svg");
    made(in_document(|document| document.create_element_ns(space, tag).ok()))
}

#[inline(never)]
fn made(element: Option<Element>) -> El {
    El(element.unwrap_or_else(|| JsValue::NULL.unchecked_into()))
}

/// A new element of a class.
#[inline(never)]
pub fn of(tag: &'static str, class: &str) -> El {
    el(tag).attr("class", class)
}

/// A new element with text in it.
#[inline(never)]
pub fn say(tag: &'static str, text: &str) -> El {
    el(tag).text(text)
}

/// A button that does something; `class` may be empty.
pub fn button(class: &str, label: &str, tap: impl Fn() + 'static) -> El {
    button_boxed(class, label, Box::new(tap))
}

#[inline(never)]
fn button_boxed(class: &str, label: &str, tap: Box<dyn Fn()>) -> El {
    let button = el("button").attr("type", "button").text(label).on("click", move |_| tap());
    if class.is_empty() { button } else { button.attr("class", class) }
}

/// A link inside the page.
#[inline(never)]
pub fn link(class: &str, href: &str, label: &str) -> El {
    of("a", class).attr("href", href).text(label)
}

/// A part of the screen drawn anew whenever a signal it reads changes.
pub fn region(draw: impl Fn() -> Vec<El> + 'static) -> El {
    of("div", "region").fill(draw)
}

/// A part that lies below what is looked at first: drawn once that is on the screen, so
/// that a tap is answered sooner. Only on a new screen: one drawn anew in its own place
/// keeps the focus, which may be in such a part.
pub fn later(draw: impl Fn() -> Vec<El> + 'static) -> El {
    later_boxed(Box::new(draw))
}

#[inline(never)]
fn later_boxed(draw: Box<dyn Fn() -> Vec<El>>) -> El {
    let due = signal(false);
    spawn(async move {
        clock::idle().await;
        due.set(true);
    });
    region(move || if due.get() { draw() } else { Vec::new() })
}

/// Runs something later. Boxed, so that each use costs no code of its own.
pub fn spawn(future: impl Future<Output = ()> + 'static) {
    spawn_boxed(Box::pin(future));
}

#[inline(never)]
fn spawn_boxed(future: Pin<Box<dyn Future<Output = ()>>>) {
    leptos::task::spawn_local(future);
}

/// Runs an effect now and whenever a signal it reads changes, for as long as the
/// owner lives.
pub fn follow(run: impl FnMut() + 'static) {
    follow_boxed(Box::new(run));
}

#[inline(never)]
fn follow_boxed(mut run: Box<dyn FnMut()>) {
    kept(Box::new(RenderEffect::new(move |_: Option<()>| run())));
}

/// Keeps a thing for as long as the owner lives. Boxed: each kind would cost code of its own.
#[inline(never)]
fn kept(thing: Box<dyn Any>) {
    StoredValue::new_local(thing);
}

impl El {
    /// An element that is in the page already.
    pub fn found(id: &str) -> Option<Self> {
        in_document(|document| document.get_element_by_id(id)).map(Self)
    }

    /// The element itself, for what is done by hand.
    pub const fn raw(&self) -> &Element {
        &self.0
    }

    /// Adds an empty text that is written by hand.
    #[inline(never)]
    pub fn slot(self) -> (Self, Option<Text>) {
        let text = text_node("");
        if let Some(text) = &text {
            self.append(text);
        }
        (self, text)
    }

    /// Sets an attribute.
    #[inline(never)]
    pub fn attr(self, name: &str, value: &str) -> Self {
        let _ = self.0.set_attribute(name, value);
        self
    }

    /// Sets an attribute that follows signals; `None` takes it off.
    pub fn attr_by(self, name: &'static str, value: impl Fn() -> Option<String> + 'static) -> Self {
        self.attr_boxed(name, Box::new(value))
    }

    #[inline(never)]
    fn attr_boxed(self, name: &'static str, value: Box<dyn Fn() -> Option<String>>) -> Self {
        let element = self.0.clone();
        let mut shown = None;
        follow(move || {
            let now = value();
            if now == shown {
                return;
            }
            let _ = match &now {
                Some(value) => element.set_attribute(name, value),
                None => element.remove_attribute(name),
            };
            shown = now;
        });
        self
    }

    /// Adds a class while something holds.
    pub fn class_if(self, class: &'static str, holds: impl Fn() -> bool + 'static) -> Self {
        self.class_boxed(class, Box::new(holds))
    }

    #[inline(never)]
    fn class_boxed(self, class: &'static str, holds: Box<dyn Fn() -> bool>) -> Self {
        let element = self.0.clone();
        follow(move || {
            let _ = element.class_list().toggle_with_force(class, holds());
        });
        self
    }

    /// Disables a button while something holds.
    pub fn disabled_if(self, holds: impl Fn() -> bool + 'static) -> Self {
        self.prop_by("disabled", move || JsValue::from_bool(holds()))
    }

    /// A property that follows signals.
    pub fn prop_by(self, name: &'static str, value: impl Fn() -> JsValue + 'static) -> Self {
        self.prop_boxed(name, Box::new(value))
    }

    #[inline(never)]
    fn prop_boxed(self, name: &'static str, value: Box<dyn Fn() -> JsValue>) -> Self {
        let element = self.0.clone();
        follow(move || {
            let value = value();
            // Writing an equal value would move the cursor in a field.
            if js::get(&element, name).as_ref() != Some(&value) {
                js::set(&element, name, &value);
            }
        });
        self
    }

    /// Adds text; a figure stays on one line with its unit.
    #[inline(never)]
    pub fn text(self, text: &str) -> Self {
        if let Some(text) = text_node(&joined(text)) {
            self.append(&text);
        }
        self
    }

    /// Adds text that follows signals.
    pub fn text_by(self, text: impl Fn() -> String + 'static) -> Self {
        self.text_boxed(Box::new(text))
    }

    #[inline(never)]
    fn text_boxed(self, text: Box<dyn Fn() -> String>) -> Self {
        let Some(node) = text_node("") else { return self };
        self.append(&node);
        let mut shown = String::new();
        follow(move || {
            let now = text();
            if now != shown {
                node.set_data(&joined(&now));
                shown = now;
            }
        });
        self
    }

    /// Adds an element.
    #[inline(never)]
    pub fn child(self, child: Self) -> Self {
        self.append(&child.0);
        self
    }

    /// Adds an element if there is one.
    #[inline(never)]
    pub fn maybe(self, child: Option<Self>) -> Self {
        match child {
            Some(child) => self.child(child),
            None => self,
        }
    }

    /// Adds elements.
    #[inline(never)]
    pub fn children(self, children: Vec<Self>) -> Self {
        for child in children {
            self.append(&child.0);
        }
        self
    }

    #[inline(never)]
    fn append(&self, node: &Node) {
        let _ = self.0.append_child(node);
    }

    /// Fills the element with what `draw` gives, anew whenever a signal it reads
    /// changes. The focus stays at its place if that place is still there. What was
    /// opened to be read is closed then: what a clock changes is no part of such a draw.
    pub fn fill(self, draw: impl Fn() -> Vec<Self> + 'static) -> Self {
        self.fill_boxed(Box::new(draw))
    }

    #[inline(never)]
    fn fill_boxed(self, draw: Box<dyn Fn() -> Vec<Self>>) -> Self {
        let element = self.0.clone();
        follow(move || {
            let children = draw();
            let focused = focus_path(&element);
            element.set_text_content(None);
            for child in children {
                let _ = element.append_child(&child.0);
            }
            match focused {
                Some((path, true)) => refocus(&element, &path),
                Some((path, false)) => refocus_soon(element.clone(), path),
                None => {}
            }
        });
        self
    }

    /// Listens for an event.
    pub fn on(self, event: &'static str, heard: impl Fn(JsValue) + 'static) -> Self {
        self.on_boxed(event, Box::new(heard))
    }

    #[inline(never)]
    fn on_boxed(self, event: &'static str, heard: Box<dyn Fn(JsValue)>) -> Self {
        let closure = Closure::<dyn Fn(JsValue)>::wrap(heard);
        let _ = self.0.add_event_listener_with_callback(event, closure.as_ref().unchecked_ref());
        kept(Box::new(closure));
        self
    }

    /// Puts the element at the end of the page.
    #[inline(never)]
    pub fn mount(self) {
        if let Some(body) = in_document(Document::body) {
            let _ = body.append_child(&self.0);
        }
    }
}

/// What was typed into or chosen in the element an event came from.
pub fn typed(event: &JsValue) -> String {
    js::get(event, "target")
        .and_then(|target| js::get(&target, "value"))
        .and_then(|value| value.as_string())
        .unwrap_or_default()
}

/// The way from an element down to the focused one, as child numbers; and whether that
/// is typed into.
fn focus_path(root: &Element) -> Option<(Vec<u32>, bool)> {
    let active = in_document(Document::active_element)?;
    if !root.contains(Some(&active)) || active.is_same_node(Some(root)) {
        return None;
    }
    // What can be typed into has a `selectionStart`, and a keyboard that must not go.
    let typed_into = js::get(&active, "selectionStart").is_some();
    let mut path = Vec::new();
    let mut node = active;
    while !node.is_same_node(Some(root)) {
        let mut number = 0;
        let mut before = node.previous_element_sibling();
        while let Some(sibling) = before {
            number += 1;
            before = sibling.previous_element_sibling();
        }
        path.push(number);
        node = node.parent_element()?;
    }
    Some((path, typed_into))
}

/// Once everything a tap changed is drawn: what has the focus must be laid out, and what
/// is drawn after that would have to be laid out again. Not if the focus is elsewhere by
/// then, as on the heading of a new screen.
fn refocus_soon(root: Element, path: Vec<u32>) {
    clock::soon(move || {
        let is_free = in_document(|document| {
            let active = document.active_element();
            Some(active.is_none_or(|active| active.tag_name() == "BODY"))
        });
        if is_free == Some(true) {
            refocus(&root, &path);
        }
    });
}

fn refocus(root: &Element, path: &[u32]) {
    let mut node = root.clone();
    for number in path.iter().rev() {
        match node.children().item(*number) {
            Some(child) => node = child,
            None => return,
        }
    }
    let _ = js::call(&node, "focus", &[]);
}
