//! A long list of which only the rows in view are in the page.
//!
//! Invariant: every row is of one height; rows in the page stand in the order of
//! their lines, and each says which line of how many it is.

use crate::app::device::js::{get, listen, set, window};
use crate::app::draw::El;
use std::cell::{Cell, RefCell};
use std::collections::VecDeque;
use std::rc::{Rc, Weak};
use wasm_bindgen::JsValue;
use web_sys::Element;

/// Rows kept ready over and under the view.
const SPARE: usize = 3;
/// The height taken until a row can be measured, px.
const GUESS: usize = 108;

/// One row: its element, and what writes a line into it.
pub type Row = (El, Box<dyn Fn(usize)>);

struct Placed {
    row: El,
    style: JsValue,
    write: Box<dyn Fn(usize)>,
    /// The line it shows; `None` until it shows one.
    line: Option<usize>,
}

/// A list inside something that scrolls.
pub struct Rows {
    scroller: Element,
    list: El,
    make: Box<dyn Fn() -> Row>,
    placed: RefCell<VecDeque<Placed>>,
    count: Cell<usize>,
    /// Height of a row, height of the view, distance of the list from the top of
    /// what scrolls, and how far that is scrolled; px, as last measured.
    height: Cell<usize>,
    view: Cell<usize>,
    above: Cell<usize>,
    scrolled: Cell<usize>,
}

thread_local! {
    /// The list on the screen, for when the window changes its size.
    static SHOWN: RefCell<Weak<Rows>> = const { RefCell::new(Weak::new()) };
    static LISTENING: Cell<bool> = const { Cell::new(false) };
}

fn px(value: i32) -> usize {
    usize::try_from(value).unwrap_or(0)
}

fn style(element: &Element) -> JsValue {
    get(element, "style").unwrap_or(JsValue::UNDEFINED)
}

impl Rows {
    /// A list in `list`, which stands in `scroller`; `make` makes an empty row.
    pub fn new(scroller: &El, list: El, make: impl Fn() -> Row + 'static) -> Rc<Self> {
        let rows = Rc::new(Self {
            scroller: scroller.raw().clone(),
            list,
            make: Box::new(make),
            placed: RefCell::new(VecDeque::new()),
            count: Cell::new(0),
            height: Cell::new(GUESS),
            view: Cell::new(8 * GUESS),
            above: Cell::new(0),
            scrolled: Cell::new(0),
        });
        SHOWN.set(Rc::downgrade(&rows));
        if !LISTENING.replace(true) {
            listen(&window(), "resize", |_| {
                if let Some(rows) = SHOWN.with_borrow(Weak::upgrade) {
                    rows.measure();
                }
            });
        }
        rows
    }

    /// Looks at the sizes again, once the list is in the page and whenever they
    /// may have changed.
    pub fn measure(&self) {
        let first = self.placed.borrow().front().map(|placed| placed.row.raw().clone());
        let height = first.and_then(|row| get(&row, "offsetHeight")).and_then(|h| h.as_f64());
        if let Some(height) = height.filter(|height| *height >= 1.0) {
            self.height.set(height as usize);
        }
        self.view.set(px(self.scroller.client_height()).max(GUESS));
        self.stretch();
        self.scroll();
    }

    /// Follows the scroller.
    pub fn scroll(&self) {
        self.scrolled.set(px(self.scroller.scroll_top()));
        let above = get(self.list.raw(), "offsetTop").and_then(|top| top.as_f64());
        self.above.set(above.map_or(0, |top| top.max(0.0) as usize));
        self.place(false);
    }

    /// Scrolls to where the list was left.
    pub fn return_to(&self, top: i32) {
        self.scroller.set_scroll_top(top);
        self.scroll();
    }

    /// How far the list is scrolled, px.
    pub fn top(&self) -> i32 {
        i32::try_from(self.scrolled.get()).unwrap_or(0)
    }

    /// Shows `count` lines, all written anew. Measures nothing, so that nothing has
    /// to be laid out for it.
    pub fn show(&self, count: usize) {
        if self.count.replace(count) != count {
            self.stretch();
            let size = count.to_string();
            for placed in self.placed.borrow().iter() {
                let _ = placed.row.raw().set_attribute("aria-setsize", &size);
            }
        }
        self.place(true);
    }

    fn stretch(&self) {
        let height = self.count.get() * self.height.get();
        set(&style(self.list.raw()), "height", &JsValue::from_str(&format!("{height}px")));
    }

    fn place(&self, anew: bool) {
        let (count, height) = (self.count.get(), self.height.get());
        let wanted = (self.view.get() / height + 2 + 2 * SPARE).min(count);
        let from = self.scrolled.get().saturating_sub(self.above.get()) / height;
        let first = from.saturating_sub(SPARE).min(count - wanted);
        let mut placed = self.placed.borrow_mut();
        while placed.len() > wanted {
            if let Some(gone) = placed.pop_back() {
                gone.row.raw().remove();
            }
        }
        while placed.len() < wanted {
            let (row, write) = (self.make)();
            let row = row.attr("aria-setsize", &count.to_string());
            let _ = self.list.raw().append_child(row.raw());
            placed.push_back(Placed { style: style(row.raw()), row, write, line: None });
        }
        self.turn(&mut placed, first);
        for (line, placed) in (first..).zip(placed.iter_mut()) {
            let moved = placed.line != Some(line);
            if moved {
                let top = format!("translateY({}px)", line * height);
                set(&placed.style, "transform", &JsValue::from_str(&top));
                let _ = placed.row.raw().set_attribute("aria-posinset", &(line + 1).to_string());
                placed.line = Some(line);
            }
            if moved || anew {
                (placed.write)(line);
            }
        }
    }

    /// Brings rows that left at one end to the other, so that those still in view
    /// stay as they are.
    fn turn(&self, placed: &mut VecDeque<Placed>, first: usize) {
        let Some(old) = placed.front().and_then(|placed| placed.line) else { return };
        if first > old && first - old < placed.len() {
            for _ in old..first {
                if let Some(row) = placed.pop_front() {
                    let _ = self.list.raw().append_child(row.row.raw());
                    placed.push_back(row);
                }
            }
        } else if first < old && old - first < placed.len() {
            for _ in first..old {
                if let Some(row) = placed.pop_back() {
                    let before = placed.front().map(|next| next.row.raw().as_ref());
                    let _ = self.list.raw().insert_before(row.row.raw(), before);
                    placed.push_front(row);
                }
            }
        }
    }
}
