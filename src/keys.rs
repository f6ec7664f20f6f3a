//! Stable keys for plain enums, as records and forms write them.
//!
//! Invariant: key and variant are each other's inverse; a key never changes.

/// Gives an enum `ALL`, `key` and `from_key`.
macro_rules! keys {
    ($type:ident { $($variant:ident = $key:literal),+ $(,)? }) => {
        impl $type {
            /// Every variant.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The stable key used in records.
            #[must_use]
            pub const fn key(self) -> &'static str {
                match self { $(Self::$variant => $key),+ }
            }

            /// The variant with a key.
            #[must_use]
            pub fn from_key(key: &str) -> Option<Self> {
                Self::ALL.iter().copied().find(|one| one.key() == key)
            }
        }
    };
}

pub(crate) use keys;
