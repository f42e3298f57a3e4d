//! Access to the keypad without root.

/// The udev rule, as shipped in `udev/70-commis-keypad.rules`.
pub const RULE: &str = include_str!("../../udev/70-commis-keypad.rules");

/// The sentence that installs the rule.
pub fn access_sentence() -> String {
    "to use the keypad without root, run `sudo install -m 0644 udev/70-commis-keypad.rules /etc/udev/rules.d/ && sudo \
     udevadm control --reload && sudo udevadm trigger --subsystem-match=input` once, then unplug the keypad and plug \
     it in again"
        .to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rule_is_one_line_that_leaves_keyboards_alone() {
        let rules: Vec<&str> = RULE
            .lines()
            .filter(|l| !l.starts_with('#') && !l.is_empty())
            .collect();
        assert_eq!(rules.len(), 1);
        // udev(7): `uaccess` must be set before 73-seat-late.rules, so the file's number is below 73.
        assert!(rules[0].ends_with("TAG+=\"uaccess\""));
        assert!(rules[0].contains("ENV{ID_INPUT_KEYBOARD}!=\"1\""));
        assert!(access_sentence().contains("udev/70-commis-keypad.rules"));
    }
}
