//! Where letters stand in a large source.

/// Where these letters stand, large or small.
pub(super) fn find(bytes: &[u8], what: &[u8], from: usize) -> Option<usize> {
    let first = what[0];
    let mut at = from;
    while at + what.len() <= bytes.len() {
        let next = bytes[at..]
            .iter()
            .position(|b| b.eq_ignore_ascii_case(&first))?;
        at += next;
        if bytes
            .get(at..at + what.len())
            .is_some_and(|b| b.eq_ignore_ascii_case(what))
        {
            return Some(at);
        }
        at += 1;
    }
    None
}
