//! Values that screens follow, all over one kind of Leptos signal.
//!
//! Invariant: a value is told on each time it is set; one that is worked out, only when
//! it differs. Reading one whose screen is gone stops the page, as with any signal.
//!
//! Why not a signal of each type: the code of one is some kilobytes for each type it
//! holds. Here the value lies beside a signal that only counts its changes.

use super::draw::follow;
use leptos::prelude::*;
use std::any::Any;
use std::marker::PhantomData;
use std::rc::Rc;

/// A value and the signal that counts its changes.
#[derive(Clone)]
struct Held {
    changes: RwSignal<u32>,
    value: Rc<dyn Any>,
}

/// Where they lie: all that a screen carries of them.
type Place = StoredValue<Held, LocalStorage>;

/// A value that may be set.
pub struct Var<T> {
    place: Place,
    kind: PhantomData<fn() -> T>,
}

impl<T> Clone for Var<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for Var<T> {}

/// A new value that may be set.
pub fn signal<T: 'static>(value: T) -> Var<T> {
    made(Rc::new(value))
}

fn made<T>(value: Rc<dyn Any>) -> Var<T> {
    Var { place: placed(value), kind: PhantomData }
}

#[inline(never)]
fn placed(value: Rc<dyn Any>) -> Place {
    StoredValue::new_local(Held { changes: RwSignal::new(0), value })
}

/// Puts a value in; what was there goes only once its place is free again.
#[inline(never)]
fn swapped(place: Place, now: Rc<dyn Any>) -> Option<Held> {
    place.try_update_value(|held| Held {
        changes: held.changes,
        value: std::mem::replace(&mut held.value, now),
    })
}

#[inline(never)]
fn renew(place: Place, now: Rc<dyn Any>) -> bool {
    let Some(held) = swapped(place, now) else { return false };
    let _ = held.changes.try_update(|count| *count = count.wrapping_add(1));
    true
}

/// Takes a value out, to be changed and put back with `renew`.
#[inline(never)]
fn taken(place: Place) -> Option<Rc<dyn Any>> {
    swapped(place, Rc::new(())).map(|held| held.value)
}

/// The value as it is now.
#[inline(never)]
fn here(place: Place) -> Rc<dyn Any> {
    place.get_value().value
}

/// The value, and asked again when it changes.
#[inline(never)]
fn followed(place: Place) -> Rc<dyn Any> {
    let held = place.get_value();
    held.changes.track();
    held.value
}

/// A value of its own type. Once for each type, not at each place that looks.
#[inline(never)]
fn of_kind<T: 'static>(value: &Rc<dyn Any>) -> &T {
    match value.downcast_ref() {
        Some(value) => value,
        // The type is fixed where the value is made, and only written there.
        None => std::process::abort(),
    }
}

impl<T: 'static> Var<T> {
    /// Looks at the value; asked again when it changes.
    pub fn with<R>(self, read: impl FnOnce(&T) -> R) -> R {
        read(of_kind(&followed(self.place)))
    }

    /// Looks at the value as it is now.
    pub fn with_untracked<R>(self, read: impl FnOnce(&T) -> R) -> R {
        read(of_kind(&here(self.place)))
    }

    /// Asked again when the value changes.
    pub fn track(self) {
        let _ = followed(self.place);
    }

    /// Sets the value; nothing happens if its screen is gone.
    pub fn set(self, value: T) {
        let _ = self.try_set(value);
    }

    /// Sets the value; `false` if its screen is gone.
    pub fn try_set(self, value: T) -> bool {
        renew(self.place, Rc::new(value))
    }
}

impl<T: Clone + 'static> Var<T> {
    /// The value; asked again when it changes.
    pub fn get(self) -> T {
        self.with(T::clone)
    }

    /// The value as it is now.
    pub fn get_untracked(self) -> T {
        self.with_untracked(T::clone)
    }

    /// The value as it is now; `None` if its screen is gone.
    pub fn try_get_untracked(self) -> Option<T> {
        self.place.try_get_value().map(|held| of_kind::<T>(&held.value).clone())
    }

    /// Changes the value; nothing happens if its screen is gone. `change` must not read it
    /// by another way.
    pub fn update(self, change: impl FnOnce(&mut T)) {
        let Some(mut held) = taken(self.place) else { return };
        match Rc::get_mut(&mut held).and_then(<dyn Any>::downcast_mut) {
            Some(value) => change(value),
            // Someone looks at it just now.
            None => {
                let mut copy = of_kind::<T>(&held).clone();
                change(&mut copy);
                held = Rc::new(copy);
            }
        }
        let _ = renew(self.place, held);
    }
}

/// A value worked out from signals, told on only when it changes.
pub struct Known<T>(Var<T>);

impl<T> Clone for Known<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for Known<T> {}

impl<T: Clone + 'static> Known<T> {
    /// The value; asked again when it changes.
    pub fn get(self) -> T {
        self.0.get()
    }

    /// The value as it is now.
    pub fn get_untracked(self) -> T {
        self.0.get_untracked()
    }

    /// Looks at the value; asked again when it changes.
    pub fn with<R>(self, read: impl FnOnce(&T) -> R) -> R {
        self.0.with(read)
    }

    /// Looks at the value as it is now.
    pub fn with_untracked<R>(self, read: impl FnOnce(&T) -> R) -> R {
        self.0.with_untracked(read)
    }
}

/// Works a value out now and whenever a signal it reads changes.
pub fn memo<T: Clone + PartialEq + 'static>(work: impl Fn() -> T + 'static) -> Known<T> {
    let var = signal(untrack(&work));
    follow(move || {
        let now = work();
        let same = var.place.try_get_value().is_none_or(|old| *of_kind::<T>(&old.value) == now);
        if !same {
            var.set(now);
        }
    });
    Known(var)
}

/// Works a value out now and whenever the number that stands for it changes: for what
/// is large to compare.
pub fn memo_by<T: 'static>(
    number: impl Fn() -> u64 + 'static,
    work: impl Fn() -> T + 'static,
) -> Known<T> {
    let var = signal(untrack(&work));
    let mut last = untrack(&number);
    follow(move || {
        let now = number();
        if now != last {
            last = now;
            var.set(untrack(&work));
        }
    });
    Known(var)
}

/// A value worked out from signals each time it is read.
#[derive(Clone)]
pub struct Derived<T>(Rc<dyn Fn() -> T>);

/// A value worked out from signals each time it is read.
pub fn derive<T: 'static>(work: impl Fn() -> T + 'static) -> Derived<T> {
    Derived(Rc::new(work))
}

impl<T> Derived<T> {
    /// The value; asked again when a signal it reads changes.
    pub fn get(&self) -> T {
        (self.0)()
    }

    /// The value as it is now.
    pub fn get_untracked(&self) -> T {
        untrack(|| self.get())
    }
}

impl<T: Clone + 'static> From<Var<T>> for Derived<T> {
    fn from(var: Var<T>) -> Self {
        derive(move || var.get())
    }
}
