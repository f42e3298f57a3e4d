//! Answers to the program's questions, the voice, and the session.

use super::book::Book;
use super::key::Key;
use super::keys::{Keys, Press};
use super::loss::Loss;
use super::order::Order;
use super::place::Place;

macro_rules! session {
    ([$next:ident $($rest:ident)*] $($before:tt)*) => {
        $next! {
        [$($rest)*] $($before)*
        /// Yes; it has; go on.
        Yes,
        /// No; leave it.
        No,
        /// Not yet.
        NotYet,
        /// Louder speech.
        Louder,
        /// Quieter speech.
        Quieter,
        /// Slower speech.
        Slower,
        /// Faster speech.
        Faster,
        /// A higher voice.
        Higher,
        /// A lower voice.
        Lower,
        /// Fewer words.
        Briefer,
        /// More words.
        Fuller,
        /// Be silent now (also silences an alarm).
        StopTalking,
        /// Stop acting on speech until told to listen by key.
        StopListening,
        /// Listen again.
        StartListening,
        /// What was heard last, and whether it was understood.
        WhatHeard,
        /// Is it listening, and is a device missing?
        Troubles,
        /// What can be said here.
        Help,
        /// What the chimes mean.
        ExplainChimes,
        /// Leave the session (confirmed).
        Goodbye,
        /// Take back the last thing done, whatever it was.
        Undo,
        /// Be silent for now; timers run on.
        HangOn,
        }
    };
}

pub(super) fn lay(g: &mut Book) {
    answers(g);
    voice(g);
    session(g);
}

fn answers(g: &mut Book) {
    g.say(
        "choice",
        &[
            "[the] <c:choice>",
            "(i said|i mean|i meant) [the] <c:choice>",
            "[no] the <c:choice>",
            "it is [the] <c:choice>",
        ],
        |c, l| {
            l.readings()
                .get(c.text::<String>("c")?.parse::<usize>().ok()?)
                .cloned()
        },
    );
    g.say(
        "yes",
        &[
            "yes [please]",
            "yeah",
            "=yep",
            "=yup",
            "=aye",
            "~okay|=ok",
            "sure",
            "yes it (has|is|does)",
            "it has",
            "it is",
            "it does",
            "yes i have",
            "yes i did",
            "i have",
            "i did",
            "yes do it",
            "do it",
            "do that",
            "yes go ahead",
            "go ahead",
            "that is right",
            "yes that is right",
            "!correct",
            "that is it",
            "it has doubled",
            "it is doubled",
            "yes it has doubled",
            "it looks ready|it is ready",
            "!=certainly",
            "!=of =course",
            "!=fine|=all =right|=alright",
        ],
        |_, _| Some(Order::Yes),
    );
    g.say(
        "no",
        &[
            "no [thanks]",
            "!=nope|=nah|=no =thank =you|=thanks =but =no",
            "no do not",
            "do not",
            "do not do (it|that)",
            "no leave it",
            "leave it",
            "cancel [that]",
            "never mind",
            "no never mind",
            "forget it",
            "no i have not",
            "i have not",
            "no i did not",
            "i did not",
            "none of (them|those|these)|=neither",
            "that is wrong|=wrong|=that =is =not =right",
            "no that is wrong",
        ],
        |_, _| Some(Order::No),
    );
    g.say(
        "not_yet",
        &[
            "[no] not yet",
            "[no] it has not",
            "[no] it is not",
            "[no] it is not (ready|done|=there =yet)",
            "it is not (ready|done) yet",
            "it has not doubled [yet]",
            "not ready [yet]",
            "not quite [yet]",
            "it has not [=risen] yet",
            "not done yet",
            "!=nearly|=almost",
            "[no] i have not yet",
        ],
        |_, _| Some(Order::NotYet),
    );
}

fn voice(g: &mut Book) {
    g.say(
        "louder",
        &[
            "louder",
            "speak (up|louder)",
            "talk louder",
            "turn it up",
            "turn (up the volume|the volume up)",
            "volume up",
            "a (bit|little) louder",
            "i can not hear you",
            "be louder",
            "turn up",
        ],
        |_, _| Some(Order::Louder),
    );
    g.say(
        "quieter",
        &[
            "quieter",
            "speak (more quietly|quieter|softer)",
            "talk quieter",
            "turn it down",
            "turn (down the volume|the volume down)",
            "volume down",
            "a (bit|little) quieter",
            "too loud",
            "you are too loud|=that =is =too =loud",
            "softer",
            "turn down",
        ],
        |_, _| Some(Order::Quieter),
    );
    g.say(
        "slower",
        &[
            "slower",
            "speak (slower|more slowly)",
            "talk slower",
            "slow down",
            "a (bit|little) slower",
            "too fast",
            "you are too fast|=you =talk =too =fast",
            "not so fast",
        ],
        |_, _| Some(Order::Slower),
    );
    g.say(
        "faster",
        &[
            "faster",
            "speak faster",
            "talk faster",
            "speed up",
            "a (bit|little) faster",
            "too slow",
            "you are too slow",
            "quicker",
        ],
        |_, _| Some(Order::Faster),
    );
    g.say(
        "higher",
        &[
            "higher",
            "speak higher",
            "a higher voice",
            "raise your voice pitch|=raise =the =pitch",
            "pitch up",
            "a (bit|little) higher",
            "higher (pitch|voice)",
        ],
        |_, _| Some(Order::Higher),
    );
    g.say(
        "lower",
        &[
            "lower",
            "speak lower",
            "a (lower|deeper) voice",
            "lower your voice|=lower =the =pitch",
            "pitch down",
            "a (bit|little) lower",
            "(lower|deeper) (pitch|voice)|deeper",
        ],
        |_, _| Some(Order::Lower),
    );
    g.say(
        "briefer",
        &[
            "say less",
            "fewer words",
            "be (brief|briefer|=short)",
            "shorter [answers]",
            "keep it short",
            "less (talk|detail)",
            "talk less",
            "briefer",
            "[just] the short version|=just =the =facts",
        ],
        |_, _| Some(Order::Briefer),
    );
    g.say(
        "fuller",
        &[
            "more words",
            "more detail",
            "be fuller|fuller [answers]",
            "longer answers",
            "talk more",
            "explain more",
            "the long version",
        ],
        |_, _| Some(Order::Fuller),
    );
}

fn session(g: &mut Book) {
    g.say(
        "stop_talking",
        &[
            "stop [talking]",
            "be quiet",
            "quiet",
            "=hush",
            "!=shush|=shh|=silence",
            "stop (speaking|it)",
            "that is enough",
            "enough",
            "mute|=shut =up",
            "no more talking",
        ],
        |_, _| Some(Order::StopTalking),
    );
    g.say(
        "stop_listening",
        &[
            "stop listening",
            "do not listen",
            "go to sleep",
            "!=sleep",
            "=mute the microphone|turn off the microphone|turn the microphone off",
            "microphone off",
            "close your ears",
        ],
        |_, _| Some(Order::StopListening),
    );
    g.say(
        "start_listening",
        &[
            "start listening",
            "listen [again|to me]",
            "wake up",
            "microphone on",
            "turn (on the microphone|the microphone on)",
            "open your ears",
            "<call>",
        ],
        |_, _| Some(Order::StartListening),
    );
    g.say(
        "undo",
        &[
            "undo [that|it|=the =last =thing]",
            "take (that|it) back",
            "take back the last (one|thing)",
            "(scrub|=scratch) that",
        ],
        |_, _| Some(Order::Undo),
    );
    g.say(
        "hang_on",
        &[
            "(hang|hold) on [a (second|minute|moment)]",
            "wait [a (second|minute|moment)]",
            "[just] (a|one) moment",
            "!=hold",
        ],
        |_, _| Some(Order::HangOn),
    );
    g.say(
        "what_heard",
        &[
            "what did you hear",
            "what have you heard",
            "what did you think i said",
            "what did i say",
            "did you hear (me|that)",
            "what was the last thing you heard",
        ],
        |_, _| Some(Order::WhatHeard),
    );
    g.say(
        "troubles",
        &[
            "are you listening",
            "can you hear me",
            "is (anything|something) (wrong|broken)",
            "is everything working",
            "are you (there|working)",
            "what is wrong",
        ],
        |_, _| Some(Order::Troubles),
    );
    g.say(
        "help",
        &[
            "help [me]",
            "what can i say [here]",
            "what can i (do|ask) [here]",
            "what can you do",
            "i need help",
            "give me a hint|=hint",
            "what are (the|my) (commands|choices)",
            "how does this work",
            "what do i say",
            "what should i say",
        ],
        |_, _| Some(Order::Help),
    );
    g.say(
        "explain_chimes",
        &[
            "what do the (chimes|sounds|bells) mean",
            "explain the (chimes|sounds|bells)",
            "what does that (sound|chime|bell) mean",
            "what was that (sound|chime|bell)",
            "what is that (sound|chime|bell|=noise)",
            "what are the (chimes|sounds)",
            "tell me about the (chimes|sounds)",
        ],
        |_, _| Some(Order::ExplainChimes),
    );
    g.say(
        "goodbye",
        &[
            "goodbye|=bye|=goodnight",
            "good bye",
            "!good night",
            "bye bye",
            "quit",
            "exit",
            "i am leaving",
            "end the session",
            "stop cooking",
            "that is all for today",
            "see you later",
            "finish cooking",
            "we are finished|i am finished cooking",
            "!=close =the =program",
        ],
        |_, _| Some(Order::Goodbye),
    );
}

/// How an order of this family is described back.
pub(super) fn describe(order: &Order) -> Option<String> {
    let words = match order {
        Order::Yes => "yes",
        Order::No => "no",
        Order::NotYet => "not yet",
        Order::Louder => "louder",
        Order::Quieter => "quieter",
        Order::Slower => "slower",
        Order::Faster => "faster",
        Order::Higher => "a higher voice",
        Order::Lower => "a lower voice",
        Order::Briefer => "fewer words",
        Order::Fuller => "more words",
        Order::StopTalking => "stop talking",
        Order::StopListening => "stop listening",
        Order::StartListening => "listen again",
        Order::WhatHeard => "what I heard",
        Order::Undo => "take back the last thing",
        Order::HangOn => "be quiet for a moment",
        Order::Troubles => "is anything wrong",
        Order::Help => "what you can say",
        Order::ExplainChimes => "what the chimes mean",
        Order::Goodbye => "goodbye",
        _ => return None,
    };
    Some(words.to_owned())
}

/// It only asks.
pub(super) fn asks(order: &Order) -> bool {
    matches!(
        order,
        Order::WhatHeard | Order::Troubles | Order::Help | Order::ExplainChimes | Order::HangOn
    )
}

/// What is lost.
pub(super) fn loses(order: &Order) -> Option<Loss<'_>> {
    match order {
        Order::Goodbye => Some(Loss::Session),
        Order::Undo => Some(Loss::LastDeed),
        _ => None,
    }
}

/// The keys of this family.
pub(super) fn keys(k: &mut Keys) {
    answer_keys(k);
    safe_keys(k);
    k.key(Key::Backspace, Place::Step, "silences the voice", |_, _| {
        Press::Order(Order::StopTalking)
    });
    k.show("Back", Place::Step, "be silent");
    k.key(Key::Dot, Place::Step, "opens the list of more", |_, _| {
        Press::Open(".", Vec::new())
    });
    k.list(".", "", "The lists. Dot goes on, Enter chooses.");
    k.item(
        ". 1",
        "what can be done here",
        "what can be done here",
        |_, _| Ok(Order::Help),
    );
    k.list(". 8", "the voice", "The voice.");
    k.item(". 8 1", "louder", "louder", |_, _| Ok(Order::Louder));
    k.item(". 8 2", "quieter", "quieter", |_, _| Ok(Order::Quieter));
    k.item(". 8 3", "slower", "slower", |_, _| Ok(Order::Slower));
    k.item(". 8 4", "faster", "faster", |_, _| Ok(Order::Faster));
    k.item(". 8 5", "higher", "a higher voice", |_, _| {
        Ok(Order::Higher)
    });
    k.item(". 8 6", "lower", "a lower voice", |_, _| Ok(Order::Lower));
    k.item(". 8 7", "fewer words", "fewer words", |_, _| {
        Ok(Order::Briefer)
    });
    k.item(". 8 8", "more words", "more words", |_, _| {
        Ok(Order::Fuller)
    });
    k.list(". 10", "listening and leaving", "Listening and leaving.");
    k.item(". 10 1", "listen to me", "listen again", |_, _| {
        Ok(Order::StartListening)
    });
    k.item(
        ". 10 2",
        "stop listening, keys only",
        "stop listening; keys only",
        |_, _| Ok(Order::StopListening),
    );
    k.item(
        ". 10 3",
        "what the chimes mean",
        "what the chimes mean",
        |_, _| Ok(Order::ExplainChimes),
    );
    k.item(". 10 4", "leave", "leave", |_, _| Ok(Order::Goodbye));
    k.item(
        ". 10 5",
        "am I heard, and is anything missing",
        "is it listening, and is anything missing",
        |_, _| Ok(Order::Troubles),
    );
    k.item(
        ". 10 6",
        "what I heard last",
        "what was heard last",
        |_, _| Ok(Order::WhatHeard),
    );
}

fn safe_keys(k: &mut Keys) {
    k.item(
        ". 10 7",
        "take back the last thing",
        "take back the last thing, whatever it was",
        |_, _| Ok(Order::Undo),
    );
    k.item(
        ". 10 8",
        "be quiet for a moment",
        "be quiet for a moment; timers run on",
        |_, _| Ok(Order::HangOn),
    );
}

fn answer_keys(k: &mut Keys) {
    k.key(
        Key::Enter,
        Place::HowLong,
        "takes the minutes, once they are entered",
        |_, _| Press::Say("Enter the minutes first, then Enter.".to_owned()),
    );
    k.key(
        Key::Enter,
        Place::Doubt,
        "reads what you may have said, to choose from",
        |_, _| Press::Open("readings", Vec::new()),
    );
    k.key(Key::Enter, Place::Question, "yes", |_, _| {
        Press::Order(Order::Yes)
    });
    k.show("Enter", Place::Question, "yes");
    k.key(Key::Minus, Place::Question, "not yet", |_, _| {
        Press::Order(Order::NotYet)
    });
    k.show("-", Place::Question, "not yet");
    k.key(Key::Backspace, Place::HowLong, "no", |_, _| {
        Press::Order(Order::No)
    });
    k.key(Key::Backspace, Place::Question, "no", |_, _| {
        Press::Order(Order::No)
    });
    k.show("Back", Place::Question, "no");
}
