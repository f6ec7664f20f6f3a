//! The numbers of the texts, worked out by the build from the files of this folder.
//!
//! Invariant: sorted by hash, no two alike; natively the English texts are here too.

include!(concat!(env!("OUT_DIR"), "/words.rs"));
