//! Reads the check rows and the tables that lie beside this file.

#![allow(dead_code)] // Every test binary uses its own part.

use hearthjar::physics::atmosphere::Geometric;
use hearthjar::physics::{Celsius, Pascal, Sample};
use hearthjar::units::Span;
use serde::Deserialize;

/// One row of `physics.toml`: what a source says a quantity is.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Row {
    pub id: String,
    pub quantity: String,
    pub inputs: toml::Table,
    pub expected: f64,
    pub tolerance: f64,
    pub unit: String,
    pub source: String,
    pub state: String,
}

#[derive(Deserialize)]
struct Rows {
    check: Vec<Row>,
}

/// All rows of `physics.toml`.
pub fn rows() -> Vec<Row> {
    toml::from_str::<Rows>(include_str!("physics.toml")).unwrap().check
}

impl Row {
    pub fn get(&self, name: &str) -> Option<f64> {
        number(self.inputs.get(name)?)
    }

    pub fn input(&self, name: &str) -> f64 {
        self.get(name).unwrap_or_else(|| panic!("{}: no input {name}", self.id))
    }

    pub fn list(&self, name: &str) -> Vec<f64> {
        self.inputs[name].as_array().unwrap().iter().map(|v| number(v).unwrap()).collect()
    }

    /// The row's altitude, given in metres or feet.
    pub fn height(&self) -> Geometric {
        let metres = self.get("altitude_m").unwrap_or_else(|| self.input("altitude_ft") * 0.3048);
        Geometric::new(metres).unwrap()
    }

    /// The row's temperature, given in Celsius, Fahrenheit or kelvin.
    pub fn temperature(&self) -> Celsius {
        if let Some(degrees) = self.get("T_C") {
            celsius(degrees)
        } else if let Some(degrees) = self.get("T_F") {
            Celsius::from_fahrenheit(degrees).unwrap()
        } else {
            Celsius::from_kelvin(self.input("T_K")).unwrap()
        }
    }

    /// The row's pressure, given in Pa, kPa or MPa.
    pub fn pressure(&self) -> Pascal {
        let scales = [("p_Pa", 1.0), ("p_kPa_abs", 1e3), ("p_MPa", 1e6)];
        let found = scales.iter().find_map(|(name, scale)| Some(self.get(name)? * scale));
        Pascal::new(found.unwrap()).unwrap()
    }
}

fn number(value: &toml::Value) -> Option<f64> {
    value.as_float().or_else(|| value.as_integer().map(|i| i as f64))
}

pub fn celsius(degrees: f64) -> Celsius {
    Celsius::new(degrees).unwrap()
}

/// A reading at so many minutes.
pub fn sample(minutes: f64, degrees: f64) -> Sample {
    Sample { at: Span((minutes * 60_000.0).round() as i64), temperature: celsius(degrees) }
}

/// The rows of a table: fields by column name. Lines that start with `#` are
/// notes; a field in double quotes may hold commas.
pub struct Table {
    names: Vec<String>,
    rows: Vec<Vec<String>>,
}

/// One line of a [`Table`].
#[derive(Clone, Copy)]
pub struct Line<'a> {
    table: &'a Table,
    fields: &'a [String],
}

impl Table {
    pub fn read(text: &str) -> Self {
        let mut lines = text.lines().filter(|l| !l.starts_with('#') && !l.is_empty()).map(fields);
        let names = lines.next().unwrap();
        let rows: Vec<_> = lines.collect();
        assert!(rows.iter().all(|row| row.len() == names.len()), "a line with a field too many");
        Self { names, rows }
    }

    pub fn lines(&self) -> impl Iterator<Item = Line<'_>> {
        self.rows.iter().map(|fields| Line { table: self, fields })
    }

    pub fn names(&self) -> &[String] {
        &self.names
    }
}

impl<'a> Line<'a> {
    pub fn text(self, name: &str) -> &'a str {
        let at = self.table.names.iter().position(|n| n == name);
        &self.fields[at.unwrap_or_else(|| panic!("no column {name}"))]
    }

    /// The number in a column, or `None` where the source has none.
    pub fn maybe(self, name: &str) -> Option<f64> {
        let text = self.text(name);
        if text.is_empty() { None } else { Some(text.parse().unwrap()) }
    }

    pub fn number(self, name: &str) -> f64 {
        self.maybe(name).unwrap_or_else(|| panic!("column {name} is blank"))
    }
}

fn fields(line: &str) -> Vec<String> {
    let mut fields = vec![String::new()];
    let mut quoted = false;
    for c in line.chars() {
        match c {
            '"' => quoted = !quoted,
            ',' if !quoted => fields.push(String::new()),
            _ => fields.last_mut().unwrap().push(c),
        }
    }
    fields
}

/// Fails with the place and both numbers unless they agree.
#[track_caller]
pub fn close(what: &str, got: f64, expected: f64, tolerance: f64) {
    assert!(
        (got - expected).abs() <= tolerance,
        "{what}: got {got}, expected {expected} within {tolerance}, off by {:e}",
        got - expected
    );
}
