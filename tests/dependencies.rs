//! What this project is built from: known sources, free licences, a reason each.
//!
//! Licence names are those of the SPDX list (spdx.org/licenses).
#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // a failed test may panic

use serde_json::Value;
use std::process::Command;

const ROOT: &str = env!("CARGO_MANIFEST_DIR");
/// Licences that ask for no more than a notice: what is handed out may hold such code.
const FREE: [&str; 11] = [
    "MIT",
    "Apache-2.0",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "ISC",
    "Zlib",
    "Unicode-3.0",
    "Unlicense",
    "CC0-1.0",
    "BSL-1.0",
    "0BSD",
];
/// Licences of what only tests use.
const FREE_IN_TESTS: [&str; 2] = ["MPL-2.0", "BlueOak-1.0.0"];

/// Whether a licence expression can be met with the licences given. Every part of an
/// `AND` must be; one side of an `OR`, or of the old slash, will do.
fn is_free(expression: &str, more: &[&str]) -> bool {
    let plain = expression.replace(['(', ')'], "").replace('/', " OR ");
    plain.split(" AND ").all(|part| {
        part.split(" OR ").any(|one| FREE.contains(&one.trim()) || more.contains(&one.trim()))
    })
}

#[test]
fn licence_expressions_are_read_right() {
    for good in ["MIT", "MIT OR Apache-2.0", "GPL-3.0 OR MIT", "(MIT OR ISC) AND Unicode-3.0"] {
        assert!(is_free(good, &[]), "{good}");
    }
    for bad in ["GPL-3.0", "MIT AND GPL-3.0-only", "", "Proprietary", "MPL-2.0"] {
        assert!(!is_free(bad, &[]), "{bad}");
    }
}

/// What cargo knows of the packages built for one target.
fn metadata(target: &str) -> Value {
    let out = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--locked", "--filter-platform", target])
        .current_dir(ROOT)
        .output()
        .unwrap();
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    serde_json::from_slice(&out.stdout).unwrap()
}

#[test]
fn every_crate_is_free_and_comes_from_the_one_registry() {
    let metadata = metadata("wasm32-unknown-unknown");
    let packages = metadata["packages"].as_array().unwrap();
    assert!(packages.len() > 50);
    for package in packages {
        let name = &package["name"];
        let Some(source) = package["source"].as_str() else {
            assert_eq!(name, "hearthjar", "a crate from a folder");
            continue;
        };
        assert_eq!(source, "registry+https://github.com/rust-lang/crates.io-index", "{name}");
        let licence = package["license"].as_str().unwrap_or("");
        assert!(is_free(licence, &[]), "{name} is under {licence:?}");
    }
    // The lock file holds a checksum for each.
    let lock = std::fs::read_to_string(format!("{ROOT}/Cargo.lock")).unwrap();
    let from_registry = lock.matches("source = \"registry+").count();
    assert_eq!(lock.matches("checksum = \"").count(), from_registry);
    assert_eq!(lock.matches("source = \"").count(), from_registry);
}

#[test]
fn every_direct_dependency_has_its_reason_in_the_book_for_contributors() {
    let book = std::fs::read_to_string(format!("{ROOT}/DEVELOPERS.md")).unwrap();
    let (_, list) = book.split_once("## Dependencies").unwrap();
    let list = list.split("\n## ").next().unwrap();
    let first_cells: Vec<&str> =
        list.lines().filter_map(|line| line.strip_prefix("| ")?.split('|').next()).collect();
    let named = |name: &str| {
        first_cells.iter().any(|cell| {
            cell.split(|c: char| !(c.is_alphanumeric() || "-_.".contains(c))).any(|w| w == name)
        })
    };
    let metadata = metadata("wasm32-unknown-unknown");
    let packages = metadata["packages"].as_array().unwrap();
    let own = packages.iter().find(|package| package["name"] == "hearthjar").unwrap();
    for dependency in own["dependencies"].as_array().unwrap() {
        let name = dependency["name"].as_str().unwrap();
        assert!(named(name), "DEVELOPERS.md gives no reason for {name}");
    }
    let npm = std::fs::read_to_string(format!("{ROOT}/tests/browser/package.json")).unwrap();
    let npm: Value = serde_json::from_str(&npm).unwrap();
    for name in npm["dependencies"].as_object().unwrap().keys() {
        assert!(named(name), "DEVELOPERS.md gives no reason for {name}");
    }
}

#[test]
fn npm_packages_are_free_and_come_whole_from_the_one_registry() {
    let lock = std::fs::read_to_string(format!("{ROOT}/tests/browser/package-lock.json")).unwrap();
    let lock: Value = serde_json::from_str(&lock).unwrap();
    let packages = lock["packages"].as_object().unwrap();
    for (name, package) in packages.iter().filter(|(name, _)| !name.is_empty()) {
        // An address is named only where it is not the registry's own.
        let from = package["resolved"].as_str().unwrap_or("https://registry.npmjs.org/");
        assert!(from.starts_with("https://registry.npmjs.org/"), "{name} comes from {from:?}");
        assert!(package["integrity"].as_str().is_some_and(|sum| sum.starts_with("sha512-")));
        let licence = package["license"].as_str().unwrap_or("");
        assert!(is_free(licence, &FREE_IN_TESTS), "{name} is under {licence:?}");
    }
}
