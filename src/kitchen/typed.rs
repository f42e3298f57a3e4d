//! Lines that are typed, looked at without waiting for them.

use rustix::event::{PollFd, PollFlags, Timespec, poll};

/// The longest line that is taken, in bytes.
const LONGEST: usize = 10_000;

/// What is typed now.
pub(super) enum Typed {
    /// No whole line yet.
    Nothing,
    /// A line, without its ends; it may be empty.
    Line(String),
    /// Nothing more comes.
    End,
}

/// Lines of the standard input. Not a byte more than a line is read: what follows belongs to whoever comes next.
#[derive(Default)]
pub(super) struct TypedLines {
    line: Vec<u8>,
    ended: bool,
}

impl TypedLines {
    /// The next line, where it is whole.
    pub(super) fn look(&mut self) -> Typed {
        let input = std::io::stdin();
        while !self.ended {
            let mut fds = [PollFd::new(&input, PollFlags::IN)];
            let at_once = Timespec {
                tv_sec: 0,
                tv_nsec: 0,
            };
            if !poll(&mut fds, Some(&at_once)).is_ok_and(|n| n > 0) {
                return Typed::Nothing;
            }
            let mut byte = [0];
            match rustix::io::read(&input, &mut byte) {
                Ok(1) if byte[0] == b'\n' => return Typed::Line(self.taken()),
                Ok(1) if self.line.len() < LONGEST => self.line.push(byte[0]),
                Ok(1) | Err(rustix::io::Errno::INTR) => {}
                _ => self.ended = true,
            }
        }
        // The last line may have no end.
        if self.line.is_empty() {
            return Typed::End;
        }
        Typed::Line(self.taken())
    }

    fn taken(&mut self) -> String {
        let line = std::mem::take(&mut self.line);
        String::from_utf8_lossy(&line).trim().to_owned()
    }
}
