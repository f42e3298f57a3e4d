//! Answers to the program's questions, the voice, and the session.

use crate::order::Order;
use crate::understand::grammar::Grammar;

pub(super) fn lay(g: &mut Grammar) {
    answers(g);
    voice(g);
    session(g);
}

fn answers(g: &mut Grammar) {
    g.say(
        "choice",
        &[
            "[the] <c:choice>",
            "(i said|i mean|i meant) [the] <c:choice>",
            "[no] the <c:choice>",
            "it is [the] <c:choice>",
        ],
        |c, l| {
            l.choices
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

fn voice(g: &mut Grammar) {
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
            "say more",
            "more words",
            "more detail",
            "be fuller|fuller [answers]",
            "longer answers",
            "tell me more",
            "talk more",
            "explain more",
            "the long version",
        ],
        |_, _| Some(Order::Fuller),
    );
}

fn session(g: &mut Grammar) {
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
            "is (anything|something) (wrong|missing|broken)",
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
