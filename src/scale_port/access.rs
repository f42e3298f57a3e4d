//! Access to the scale without root.

/// The udev rule, as shipped in `udev/70-commis-scale.rules`.
pub const RULE: &str = include_str!("../../udev/70-commis-scale.rules");

/// The sentence that installs the rule.
pub fn access_sentence() -> String {
    "to use the scale without root, run `sudo install -m 0644 udev/70-commis-scale.rules /etc/udev/rules.d/ && sudo udevadm \
     control --reload && sudo udevadm trigger --subsystem-match=hidraw` once, then unplug the scale and plug it in again"
        .to_owned()
}
