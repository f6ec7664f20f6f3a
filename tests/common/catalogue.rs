//! The catalogue of texts, read by the tests in their own way.

use std::path::Path;

/// One text and its translation, as they stand in a file.
pub struct Pair {
    /// The file, without `.toml`.
    pub file: &'static str,
    /// The English, remark and all.
    pub english: String,
    /// The Spanish; empty if there is none.
    pub spanish: String,
}

impl Pair {
    /// The English as it is shown.
    pub fn shown(&self) -> &str {
        self.english.split("##").next().unwrap_or_default()
    }
}

/// The folder of the catalogue.
pub fn folder() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/src/words"))
}

/// The files of the page's first half, in order, and those of its second.
pub const FILES: [&[&str]; 2] =
    [&["app", "stove", "domain", "tables", "publications"], &["desk", "plan", "later"]];

/// Every text in the order of the numbers; a whole file is read as one table, which also
/// holds every line against the format (TOML 1.0).
pub fn pairs() -> Vec<Pair> {
    let mut pairs = Vec::new();
    for file in FILES.into_iter().flatten() {
        let text = std::fs::read_to_string(folder().join(format!("{file}.toml"))).unwrap();
        let table: toml::Table = toml::from_str(&text).unwrap();
        let lines = text.lines().filter(|line| line.starts_with('"'));
        let mut found = 0;
        for line in lines {
            let one: toml::Table = toml::from_str(line).unwrap();
            let (english, spanish) = one.into_iter().next().unwrap();
            assert_eq!(table.get(&english), Some(&spanish));
            let spanish = spanish.as_str().unwrap().to_owned();
            pairs.push(Pair { file, english, spanish });
            found += 1;
        }
        assert_eq!(found, table.len(), "{file}: a line is no text");
    }
    pairs
}

/// FNV-1a, 64 bits, as 16 hex digits (draft-eastlake-fnv, section 2).
pub fn fnv(bytes: &[u8]) -> String {
    let mut hash = 14_695_981_039_346_656_037_u64;
    for byte in bytes {
        hash = (hash ^ u64::from(*byte)).wrapping_mul(1_099_511_628_211);
    }
    format!("{hash:016x}")
}

/// The files of texts of one language for both halves together, as the page loads them.
pub fn language(of: impl Fn(&Pair) -> String) -> String {
    let pairs = pairs();
    let named: String = pairs.iter().map(|pair| format!("{}\n", pair.english)).collect();
    let lines: String = pairs.iter().map(|pair| format!("{}\n", of(pair))).collect();
    format!("{}\n{lines}", fnv(named.as_bytes()))
}
