//! What a misspelt word was perhaps meant to be.

/// How like two words have to be, from 0 to 1, for one to be offered for the other.
pub(super) const LIKE: f64 = 0.5;

/// The most that are offered.
pub(super) const OFFERED: usize = 4;

/// How like two texts are, 0 to 1, in any case.
pub(super) fn likeness(one: &str, other: &str) -> f64 {
    strsim::normalized_damerau_levenshtein(&one.to_lowercase(), &other.to_lowercase())
}

/// Those of the known words that are like this one, the likest first.
pub(super) fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Vec<&'a str> {
    let mut found: Vec<(f64, &str)> = Vec::new();
    for one in known {
        let like = likeness(word, one);
        if like >= LIKE && !found.iter().any(|(_, other)| *other == one) {
            found.push((like, one));
        }
    }
    found.sort_by(|one, other| other.0.total_cmp(&one.0));
    found.into_iter().take(OFFERED).map(|(_, one)| one).collect()
}

/// Several names as one argument of a message.
pub(super) fn list<S: AsRef<str>>(names: &[S]) -> String {
    names.iter().map(AsRef::as_ref).collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn check_nearest() {
        assert_eq!(nearest("chnage", ["change", "scrub", "change"]), ["change"]);
        assert_eq!(nearest("xyzzy", ["change", "scrub"]), [""; 0]);
        assert_eq!(list(&["North salt", "Dune"]), "North salt, Dune");
    }
}
