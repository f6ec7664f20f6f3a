//! Letters as they are typed in a hurry.
//!
//! Invariant: a letter and what somebody types for it come out the same. Small letters
//! of every script are some kilobytes of tables, so only who needs them makes them.

/// A Latin letter without its accent, small where it had one: "salmon" finds "Salmón".
#[must_use]
pub const fn bare(letter: char) -> char {
    match letter {
        'á' | 'à' | 'â' | 'ä' | 'Á' | 'À' | 'Â' | 'Ä' => 'a',
        'é' | 'è' | 'ê' | 'ë' | 'É' | 'È' | 'Ê' | 'Ë' => 'e',
        'í' | 'ì' | 'î' | 'ï' | 'Í' | 'Ì' | 'Î' | 'Ï' => 'i',
        'ó' | 'ò' | 'ô' | 'ö' | 'Ó' | 'Ò' | 'Ô' | 'Ö' => 'o',
        'ú' | 'ù' | 'û' | 'ü' | 'Ú' | 'Ù' | 'Û' | 'Ü' => 'u',
        'ñ' | 'Ñ' => 'n',
        other => other,
    }
}
