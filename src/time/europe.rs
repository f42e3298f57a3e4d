//! The clock changes of one year in the European Union, for tests.

/// Seconds.
pub(crate) const HOUR: i64 = 3600;
/// Clocks of the European Union go forward at 01:00 UTC on the last Sunday of March and back at 01:00 UTC on the last
/// Sunday of October (Directive 2000/84/EC): here 2026-03-29.
pub(crate) const SPRING: i64 = 1_774_746_000;
/// 2026-10-25.
pub(crate) const AUTUMN: i64 = 1_792_890_000;

/// The offset in seconds of a zone one hour ahead of UTC.
pub(crate) fn europe(unix_s: i64) -> i32 {
    if (SPRING..AUTUMN).contains(&unix_s) {
        7200
    } else {
        3600
    }
}
