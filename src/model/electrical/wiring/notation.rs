//! A wiring as a short text: `(1A-1B)|(2A-2B)`.
//!
//! `-` joins in series, `|` in parallel; a coil is the driver's number from one and the coil's letter. A group within
//! a group stands in brackets; without brackets `-` binds tighter.
use std::fmt;
use std::str::FromStr;

use super::{CoilId, Join, MAX_COILS_PER_DRIVER, MAX_DRIVERS, Tree};
use thiserror::Error;

/// Longest text read.
pub const MAX_NOTATION_BYTES: usize = 400;
/// Most brackets within brackets.
pub const MAX_NOTATION_DEPTH: usize = 8;

/// Why a text is not a wiring. Positions count bytes from zero.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum NotationError {
    /// Longer than [`MAX_NOTATION_BYTES`].
    #[error("the wiring text is too long")]
    TooLong,
    /// More than [`MAX_NOTATION_DEPTH`] brackets within brackets.
    #[error("too many brackets within brackets at position {at}")]
    TooDeep {
        /// Where.
        at: usize,
    },
    /// Something other than a coil or an opening bracket, or the end of the text.
    #[error("a coil such as 1A is expected at position {at}")]
    CoilExpected {
        /// Where.
        at: usize,
    },
    /// A driver beyond the eighth or a coil beyond D.
    #[error("no such coil at position {at}")]
    NoSuchCoil {
        /// Where.
        at: usize,
    },
    /// A bracket without its partner, or text after the end.
    #[error("-, | or ) is expected at position {at}")]
    JoinExpected {
        /// Where.
        at: usize,
    },
    /// A coil that already stands further left.
    #[error("coil {coil} stands twice")]
    Twice {
        /// Which.
        coil: CoilId,
    },
}

impl fmt::Display for CoilId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let letter = char::from(b'A'.saturating_add(self.coil.min(25)));
        write!(f, "{}{letter}", u16::from(self.driver) + 1)
    }
}

impl fmt::Display for Tree {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Some((join, members)) = self.members() else {
            return match self {
                Self::Coil(id) => id.fmt(f),
                _ => Ok(()),
            };
        };
        for (index, member) in members.iter().enumerate() {
            if index > 0 {
                f.write_str(if join == Join::Series { "-" } else { "|" })?;
            }
            match member {
                Self::Coil(id) => id.fmt(f)?,
                group => write!(f, "({group})")?,
            }
        }
        Ok(())
    }
}

impl FromStr for Tree {
    type Err = NotationError;

    /// Reads a wiring; spaces are skipped.
    fn from_str(text: &str) -> Result<Self, NotationError> {
        if text.len() > MAX_NOTATION_BYTES {
            return Err(NotationError::TooLong);
        }
        let mut reader = Reader { bytes: text.as_bytes(), at: 0, seen: Vec::new() };
        let tree = reader.parallel(0)?;
        match reader.peek() {
            None => Ok(tree),
            Some(_) => Err(NotationError::JoinExpected { at: reader.at }),
        }
    }
}

struct Reader<'a> {
    bytes: &'a [u8],
    at: usize,
    seen: Vec<CoilId>,
}

impl Reader<'_> {
    fn peek(&mut self) -> Option<u8> {
        while self.bytes.get(self.at) == Some(&b' ') {
            self.at += 1;
        }
        self.bytes.get(self.at).copied()
    }

    fn parallel(&mut self, depth: usize) -> Result<Tree, NotationError> {
        let mut members = vec![self.series(depth)?];
        while self.peek() == Some(b'|') {
            self.at += 1;
            members.push(self.series(depth)?);
        }
        Ok(Tree::group(Join::Parallel, members))
    }

    fn series(&mut self, depth: usize) -> Result<Tree, NotationError> {
        let mut members = vec![self.item(depth)?];
        while self.peek() == Some(b'-') {
            self.at += 1;
            members.push(self.item(depth)?);
        }
        Ok(Tree::group(Join::Series, members))
    }

    fn item(&mut self, depth: usize) -> Result<Tree, NotationError> {
        match self.peek() {
            Some(b'(') if depth >= MAX_NOTATION_DEPTH => Err(NotationError::TooDeep { at: self.at }),
            Some(b'(') => {
                self.at += 1;
                let inner = self.parallel(depth + 1)?;
                if self.peek() != Some(b')') {
                    return Err(NotationError::JoinExpected { at: self.at });
                }
                self.at += 1;
                Ok(inner)
            }
            Some(digit @ b'0'..=b'9') => self.coil(digit),
            _ => Err(NotationError::CoilExpected { at: self.at }),
        }
    }

    fn coil(&mut self, digit: u8) -> Result<Tree, NotationError> {
        let at = self.at;
        let letter = match self.bytes.get(at + 1) {
            Some(letter) if letter.is_ascii_alphabetic() => letter.to_ascii_uppercase(),
            Some(digit) if digit.is_ascii_digit() => return Err(NotationError::NoSuchCoil { at }),
            _ => return Err(NotationError::CoilExpected { at: at + 1 }),
        };
        let (driver, coil) = (digit.wrapping_sub(b'1'), letter.wrapping_sub(b'A'));
        if driver >= MAX_DRIVERS || coil >= MAX_COILS_PER_DRIVER {
            return Err(NotationError::NoSuchCoil { at });
        }
        let coil = CoilId { driver, coil };
        if self.seen.contains(&coil) {
            return Err(NotationError::Twice { coil });
        }
        self.seen.push(coil);
        self.at += 2;
        Ok(Tree::Coil(coil))
    }
}
