//! Sorting by a number and a name.
//!
//! Invariant: the same items come out in the same order on every phone.
//!
//! The standard sort is compiled anew for every type it sorts, some 2 kB of
//! compressed wasm each; here one sort of plain keys serves all lists.

/// The items by key, lowest first; items of equal key keep their order.
#[must_use]
pub fn by_key<T>(items: Vec<T>, key: impl Fn(&T) -> (i64, u128)) -> Vec<T> {
    let mut keys: Vec<Key> = Vec::with_capacity(items.len());
    for (place, item) in items.iter().enumerate() {
        let (number, name) = key(item);
        keys.push((number, name, place));
    }
    sort(&mut keys);
    let mut slots: Vec<Option<T>> = items.into_iter().map(Some).collect();
    keys.into_iter().filter_map(|(.., place)| slots.get_mut(place)?.take()).collect()
}

type Key = (i64, u128, usize);

#[inline(never)]
fn sort(keys: &mut [Key]) {
    keys.sort_unstable();
}
