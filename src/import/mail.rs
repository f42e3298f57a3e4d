//! A saved mail: its text as it was written, under its subject.

/// The fields that a mail has.
const FIELDS: [&str; 7] = [
    "from:",
    "to:",
    "subject:",
    "date:",
    "mime-version:",
    "message-id:",
    "received:",
];

/// A mail without its head, the subject as its first line, and what was written out for the way (RFC 2045, 6.7) put back.
/// Anything else stays as it is.
pub(super) fn opened(bytes: &[u8]) -> std::borrow::Cow<'_, [u8]> {
    let head_len = bytes
        .windows(2)
        .position(|w| w == b"\n\n")
        .map(|at| (at, 2))
        .into_iter()
        .chain(
            bytes
                .windows(4)
                .position(|w| w == b"\r\n\r\n")
                .map(|at| (at, 4)),
        )
        .min();
    let Some((at, gap)) = head_len.filter(|(at, _)| *at < 20_000) else {
        return bytes.into();
    };
    let head = String::from_utf8_lossy(&bytes[..at]).replace("\r\n", "\n");
    let lower = head.to_lowercase();
    let is_field = |line: &str| FIELDS.iter().any(|field| line.starts_with(field));
    // What was pasted from a mail is read as it is.
    let sent = [
        "mime-version:",
        "message-id:",
        "received:",
        "content-transfer-encoding:",
        "content-type:",
    ];
    let was_sent = lower
        .lines()
        .any(|line| sent.iter().any(|field| line.starts_with(field)));
    if !was_sent
        || lower.lines().filter(|line| is_field(line)).count() < 3
        || !lower.lines().next().is_some_and(|line| line.contains(':'))
    {
        return bytes.into();
    }
    let subject = head
        .lines()
        .find_map(|line| {
            let (field, rest) = line.split_once(':')?;
            field.eq_ignore_ascii_case("subject").then(|| rest.trim())
        })
        .unwrap_or_default();
    let mut name = subject;
    while let Some(rest) = ["re:", "fwd:", "fw:", "aw:", "wg:"]
        .iter()
        .find_map(|mark| {
            let begin = name.get(..mark.len())?;
            begin
                .eq_ignore_ascii_case(mark)
                .then(|| name[mark.len()..].trim())
        })
    {
        name = rest;
    }
    let body = &bytes[at + gap..];
    let mut out = name.as_bytes().to_vec();
    out.extend_from_slice(b"\n\n");
    // From whom it is stays.
    for line in head.lines() {
        let small = line.to_lowercase();
        if ["from:", "to:", "date:"]
            .iter()
            .any(|field| small.starts_with(field))
        {
            out.extend_from_slice(line.as_bytes());
            out.push(b'\n');
        }
    }
    out.push(b'\n');
    if lower.contains("content-transfer-encoding: quoted-printable") {
        out.extend(unquoted(body));
    } else {
        out.extend_from_slice(body);
    }
    out.into()
}

/// `=C3=A9` is é, and an equals sign at the end of a line joins it to the next.
fn unquoted(body: &[u8]) -> Vec<u8> {
    let mut out = Vec::with_capacity(body.len());
    let hex = |b: Option<&u8>| b.and_then(|b| char::from(*b).to_digit(16));
    let mut at = 0;
    while let Some(&byte) = body.get(at) {
        if byte != b'=' {
            out.push(byte);
            at += 1;
        } else if let (Some(high), Some(low)) = (hex(body.get(at + 1)), hex(body.get(at + 2))) {
            out.push((high * 16 + low) as u8);
            at += 3;
        } else if body.get(at + 1) == Some(&b'\n') {
            at += 2;
        } else if body.get(at + 1..at + 3) == Some(b"\r\n") {
            at += 3;
        } else {
            out.push(byte);
            at += 1;
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::opened;

    #[test]
    fn a_mail_is_its_text_under_its_subject() {
        let mail = "From: A <a@example.org>\r\nTo: b@example.org\r\nSubject: Re: Fwd: Plum cr\u{ea}pes\r\n\
            Content-Transfer-Encoding: quoted-printable\r\n\r\nBeat the eggs till smoot=\r\nh. Cr=C3=A8me, 2=3D2\r\n";
        assert_eq!(
            String::from_utf8_lossy(&opened(mail.as_bytes())),
            "Plum cr\u{ea}pes\n\nFrom: A <a@example.org>\nTo: b@example.org\n\nBeat the eggs till smooth. Cr\u{e8}me, 2=2\r\n"
        );
        // A recipe with colons is no mail.
        let plain = "Flour: 200 g\nButter: 100 g\n\nRub in.\n";
        assert_eq!(opened(plain.as_bytes()), plain.as_bytes());
    }
}
