//! From text to an amount, or to what is wrong with it.

use super::reader::Reader;
use super::{Amount, Part};
use crate::measure::scan::{Token, What, scan};
use crate::measure::{MeasureError, Region, Thing, Unit};

impl Amount {
    /// Reads a whole amount. A bare cup or spoon is the region's own.
    ///
    /// # Errors
    /// Says what stood there, and for an unknown unit the nearest one.
    ///
    /// ```
    /// use commis::measure::{Amount, Region};
    /// assert_eq!(Amount::parse("1 lb 3 oz", Region::Metric)?.mass(None)?.as_grams(), 538.640_939_375);
    /// let wrong = Amount::parse("7 gg", Region::Metric).unwrap_err();
    /// assert_eq!(wrong.to_string(), r#"amount "7 gg": unknown unit "gg"; did you mean "g"?"#);
    /// # Ok::<(), commis::measure::MeasureError>(())
    /// ```
    pub fn parse(text: &str, region: Region) -> Result<Self, MeasureError> {
        let tokens = scan(text);
        let (amount, reader) = Self::begin(text, &tokens, region)?;
        let Some(token) = reader.peek() else {
            return Ok(amount);
        };
        let rest = text[token.start..].trim();
        let one_bare = matches!(
            amount.parts.last(),
            Some(Part {
                unit: Unit::Count(Thing::Piece),
                ..
            })
        );
        let wrong = match token.what {
            What::Word(word) if one_bare && reader.at > 0 && !reader.said_piece() => {
                match Unit::find(rest, region) {
                    Err(MeasureError::UnknownUnit { near: None, .. }) | Ok(_) => {
                        Unit::find(word, region)
                            .err()
                            .unwrap_or(MeasureError::LeftOver {
                                found: rest.to_owned(),
                            })
                    }
                    Err(e) => e,
                }
            }
            _ => MeasureError::LeftOver {
                found: rest.to_owned(),
            },
        };
        Err(wrong.in_amount(text))
    }

    /// Reads the amount at the start of an ingredient line and gives what follows it.
    ///
    /// # Errors
    /// As [`Amount::parse`]; a line without an amount is an error too.
    pub fn parse_prefix(text: &str, region: Region) -> Result<(Self, &str), MeasureError> {
        let tokens = scan(text);
        let (amount, reader) = Self::begin(text, &tokens, region)?;
        let rest = reader.peek().map_or("", |t| &text[t.start..]);
        Ok((amount, rest.trim()))
    }

    /// Reads an amount, and gives the reader standing behind it and its `of`.
    fn begin<'t>(
        text: &'t str,
        tokens: &'t [Token<'t>],
        region: Region,
    ) -> Result<(Self, Reader<'t>), MeasureError> {
        if tokens.is_empty() {
            return Err(MeasureError::Empty);
        }
        let mut reader = Reader {
            text,
            tokens,
            at: 0,
            region,
        };
        let amount = reader.amount().map_err(|e| e.in_amount(text))?;
        reader.skip_word(&["of"]);
        Ok((amount, reader))
    }
}
