//! Somebody is hurt or in danger: answered at once, whatever is open, and nothing else is touched.

use super::Bench;
use super::effect::Effect;
use super::event::Heard;
use super::pending::Pending;
use super::weighed::Trust;
use crate::measure::Region;
use crate::order::{EmergencyKind, Order};
use crate::understand;

/// Of what was heard as free speech, so much must mean it.
const MEANT: f32 = 0.5;

/// First aid, after what the United Kingdom's National Health Service and fire services, St John Ambulance and the Red Cross publish (m).
/// `{call}` is the number that is called.
const BURN: &str = "Hold it under cool running water for twenty minutes. No ice, no cream, no butter. Take off rings and \
    watches near it, but nothing that sticks to the skin. Then cover it loosely with cling film. Get medical help if it is \
    bigger than your hand, white or charred, deep, blistered on the face, hands or feet, or on a child. In an emergency \
    {call}.";

fn advice(kind: EmergencyKind) -> &'static str {
    match kind {
        EmergencyKind::Cut => {
            "Press on it hard with a clean cloth, and hold it up. Keep pressing for ten minutes without looking. Then rinse it \
             and cover it. Get medical help if it is deep, gapes, has something in it, or you cannot feel or move what is \
             behind it. If blood spurts or does not stop, {call}."
        }
        EmergencyKind::BurntMouth => {
            "Sip cold water, and hold it in the mouth, for ten minutes. No ice straight on it, and nothing hot. If the throat \
             or tongue swells, or breathing is hard, {call}."
        }
        EmergencyKind::PanFire => {
            "Heat off, lid on, no water. Do not move the pan. If it is safe to reach, turn the heat off and slide a lid or a \
             baking tray over the flames, and leave it there until it is cold. If it does not go out at once, get everybody \
             out, shut the door behind you, and {call}."
        }
        EmergencyKind::OvenFire => {
            "Keep the door shut and turn it off, at the wall if you can. No water. Do not open it to look. If the fire does not \
             die down, or comes out, get everybody out, shut the door behind you, and {call}."
        }
        EmergencyKind::ClothesFire => {
            "Stop, drop and roll. Smother the flames with a heavy coat or a blanket, or pour water on them. Then cool what is \
             burnt under running water for twenty minutes; leave on what sticks. For hair, pour water on it or press a wet \
             towel on it. Then {call}."
        }
        EmergencyKind::Fire => {
            "Get everybody out, shut the door behind you, and {call}. Stay out. Only if it is small, and your way out is free: \
             turn off the heat, and smother it with a lid, a fire blanket or a wet cloth. Never water on burning oil, or on \
             anything that is plugged in."
        }
        EmergencyKind::Gas => {
            "No flame, and touch no switch. Turn the gas off at the tap, open the windows, and get everybody out. Light nothing \
             and plug nothing in or out. From outside, call the gas emergency line, or {call}."
        }
        EmergencyKind::Choking => {
            "If they cannot cough or speak: five sharp blows between the shoulder blades, leaning forward. If that does not help, \
             five pulls inward and upward above the navel, and the blows again. Not for a baby: blows on the back, face down, \
             then two fingers on the breastbone. If it is not out, {call}. If they can cough, let them cough."
        }
        EmergencyKind::Allergy => {
            "Use the adrenaline pen now, if there is one, and {call}. Lie them down with the legs raised, or let them sit if \
             breathing is hard; do not let them stand up. A second pen after five minutes if it is no better. Hives alone, \
             with no swelling and easy breath: an antihistamine, and watch them closely."
        }
        EmergencyKind::Shock => {
            "Do not touch them until the power is off. Switch it off at the wall or the fuse box, or push the cable away with dry \
             wood. Then {call}. If they do not breathe, press hard and fast on the middle of the chest. After any shock, see a \
             doctor."
        }
        EmergencyKind::Swallowed => {
            "Do not make them sick. {Call} now, or your poison centre. Wipe and rinse the mouth, and give nothing to drink \
             unless they tell you to. Keep the packet to show. A button battery is always an emergency."
        }
        EmergencyKind::Splash => {
            "Rinse it under running water for twenty minutes. Hold the eye open, from the nose outward, and take lenses out. Do \
             not rub. For a cleaner, lye or acid, hot fat or glass, {call}; for anything that still hurts, see a doctor."
        }
        EmergencyKind::Collapse => {
            "Do they breathe? If not, {call}, and press hard and fast on the middle of the chest, twice a second, until help \
             comes. If they breathe, turn them on the side, and {call}. Who feels faint lies down with the legs raised."
        }
        EmergencyKind::Call => {
            "{Call}; I cannot do it for you. Say where you are, and what has happened. Tell me what it is, a burn, a cut, a fire, \
             choking, and I will tell you what to do until they come."
        }
    }
}

/// What is called, where the measures of a country tell the country.
fn call(region: Region) -> &'static str {
    match region {
        Region::Uk => "call nine nine nine",
        Region::Us => "call nine one one",
        Region::Au => "call triple zero",
        Region::Metric => "call the emergency number",
    }
}

/// What to do at once: for a burn where nothing else is said.
pub fn first_aid(kind: Option<EmergencyKind>, region: Region) -> String {
    let call = call(region);
    let text = kind.map_or(BURN, advice).replace("{call}", call);
    text.replace("{Call}", &super::words::capital(call))
}

impl Bench {
    /// What was said, where somebody is hurt or in danger. No name is needed for it, and it wakes who sleeps.
    pub(super) fn emergency(&self, heard: &Heard) -> Option<Order> {
        if heard.typed {
            return understand::emergency(&heard.text);
        }
        if heard.loosely {
            let meant =
                |(text, share): &(String, f32)| Some((understand::emergency(text)?, *share));
            let all: Vec<(Order, f32)> = heard.free.iter().filter_map(meant).collect();
            let (order, _) = all.first()?.clone();
            let share: f32 = all.iter().map(|(_, share)| share).sum();
            return (share >= MEANT).then_some(order);
        }
        let order = understand::emergency(&heard.text)?;
        // Talk of the same meaning tells nothing against it.
        let same = heard
            .talk
            .as_deref()
            .and_then(understand::emergency)
            .is_some();
        (same || self.trust(heard, &self.weighed(heard)) != Trust::Ignore).then_some(order)
    }

    /// What to do at once. A doubt that was open is closed: a yes to this must not answer that.
    pub(super) fn first_aid(&mut self, kind: Option<EmergencyKind>, out: &mut Vec<Effect>) {
        self.dialogue.take_question_if(Pending::is_doubt);
        let text = first_aid(kind, self.options.region);
        self.tell(out, &text);
    }
}
