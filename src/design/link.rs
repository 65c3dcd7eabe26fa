//! A design as a link: `#d=1.<payload>`.
//!
//! Codec 1: base64url of `method, length, body, CRC-32 of the body`. Method 0 stores the body as it is, method 1
//! deflates it. The body holds each entry as a frozen field code, a unit, the digits: a new field needs no new
//! codec, and a field unknown to the reader is left out and reported. Behind entries, sizes, ticks and readings stand
//! sections of `number, length, bytes`: a reader passes over those it does not know, and older readers over all.
use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use miniz_oxide::deflate::compress_to_vec;
use miniz_oxide::inflate::decompress_to_vec_with_limit;
use thiserror::Error;

use super::document::{Design, Entry, MAX_LIST, MAX_NOTE, Reading, clean_text, is_key};
use super::file::{Opened, Repair};
use super::limits::FieldId;
use super::trials::{put_more, put_trials, take_more, take_trials};
use crate::small::sort_by;
use crate::units::{Decimal, Entered, Unit};

/// What a fragment that carries a design starts with, up to the codec number.
pub const PREFIX: &str = "d=";
/// Longest payload read, in characters.
pub const MAX_PAYLOAD: usize = 60_000;
const MAX_BODY: usize = 200_000;

/// Why a link gives no design.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum LinkError {
    /// No `d=` in the text.
    #[error("no design in this link")]
    NoDesign,
    /// A codec number this page does not know.
    #[error("made by a newer version")]
    UnknownCodec,
    /// The end is missing.
    #[error("cut short")]
    Truncated,
    /// Something inside was changed.
    #[error("damaged")]
    Corrupt,
    /// Longer than any design.
    #[error("too long")]
    TooLong,
}

/// The fragment, without `#`, that carries the design.
#[must_use]
pub fn fragment(design: &Design) -> String {
    let body = encode(design);
    let packed = compress_to_vec(&body, 10);
    let (method, stored) = if packed.len() < body.len() { (1, &packed) } else { (0, &body) };
    let mut bytes = vec![method];
    put_number(&mut bytes, stored.len() as u64);
    bytes.extend_from_slice(stored);
    bytes.extend_from_slice(&check_value(&body).to_le_bytes());
    format!("{PREFIX}1.{}", URL_SAFE_NO_PAD.encode(bytes))
}

/// CRC-32 as in ISO 3309, worked out bit by bit: a table would be a tenth of the page.
fn check_value(body: &[u8]) -> u32 {
    crc::Crc::<u32, crc::NoTable>::new(&crc::CRC_32_ISO_HDLC).checksum(body)
}

/// Whether a fragment or a whole link claims to carry a design.
#[must_use]
pub fn carries_design(text: &str) -> bool {
    payload(text).is_some()
}

/// The part after `d=`, from a fragment or from a whole link.
fn payload(text: &str) -> Option<&str> {
    let text = text.trim();
    let fragment = text.rsplit_once('#').map_or(text, |(_, fragment)| fragment);
    fragment.split('&').find_map(|part| part.strip_prefix(PREFIX))
}

/// Reads a design from a fragment or a whole link.
///
/// # Errors
/// [`LinkError`]; a link cut short is told from a damaged one. Never panics, whatever the text.
pub fn read(text: &str) -> Result<Opened, LinkError> {
    let payload = payload(text).ok_or(LinkError::NoDesign)?;
    if payload.len() > MAX_PAYLOAD {
        return Err(LinkError::TooLong);
    }
    let Some((codec, data)) = payload.split_once('.') else { return Err(LinkError::Truncated) };
    match codec {
        "1" => read_codec_1(data),
        _ if !codec.is_empty() && codec.bytes().all(|b| b.is_ascii_digit()) => Err(LinkError::UnknownCodec),
        _ => Err(LinkError::Corrupt),
    }
}

fn read_codec_1(data: &str) -> Result<Opened, LinkError> {
    // A cut may fall inside a group of four characters: drop the odd one, the length tells the rest.
    let whole = if data.len() % 4 == 1 { data.get(..data.len() - 1) } else { Some(data) };
    let lenient = base64::engine::GeneralPurpose::new(
        &base64::alphabet::URL_SAFE,
        base64::engine::GeneralPurposeConfig::new()
            .with_decode_allow_trailing_bits(true)
            .with_decode_padding_mode(base64::engine::DecodePaddingMode::Indifferent),
    );
    let bytes = lenient.decode(whole.unwrap_or("")).map_err(|_| LinkError::Corrupt)?;
    let mut cursor = Cursor { bytes: &bytes };
    let method = cursor.byte().ok_or(LinkError::Truncated)?;
    let length = cursor.number().ok_or(LinkError::Truncated)?;
    let length = usize::try_from(length).map_err(|_| LinkError::Corrupt)?;
    let stored = cursor.take(length).ok_or(LinkError::Truncated)?;
    let check = cursor.take(4).ok_or(LinkError::Truncated)?;
    let body = match method {
        0 => stored.to_vec(),
        1 => decompress_to_vec_with_limit(stored, MAX_BODY).map_err(|_| LinkError::Corrupt)?,
        _ => return Err(LinkError::Corrupt),
    };
    if check_value(&body).to_le_bytes() != check {
        return Err(LinkError::Corrupt);
    }
    decode(&body).ok_or(LinkError::Corrupt)
}

const NUMBER: u64 = 0;
const CHOICE: u64 = 1;
const TEXT: u64 = 2;

fn encode(design: &Design) -> Vec<u8> {
    let mut entries: Vec<_> = design.sheet.entries().map(|(id, entry)| (id.row().code, entry)).collect();
    sort_by(&mut entries, |a, b| a.0.cmp(&b.0));
    let mut body = Vec::new();
    put_number(&mut body, entries.len() as u64);
    let mut last = 0;
    for (code, entry) in entries {
        let kind = match entry {
            Entry::Number(_) => NUMBER,
            Entry::Choice(_) => CHOICE,
            Entry::Text(_) => TEXT,
        };
        put_number(&mut body, u64::from(code - last) << 2 | kind);
        last = code;
        match entry {
            Entry::Number(entered) => put_entered(&mut body, *entered),
            Entry::Choice(index) => body.push(*index),
            Entry::Text(text) => put_text(&mut body, text),
        }
    }
    put_number(&mut body, design.sheet.built().len() as u64);
    for (key, size) in design.sheet.built().iter() {
        put_text(&mut body, key);
        put_entered(&mut body, *size);
    }
    put_number(&mut body, design.log.ticks.len() as u64);
    for key in design.log.ticks.iter() {
        put_text(&mut body, key);
    }
    put_number(&mut body, design.log.readings.len() as u64);
    for reading in &design.log.readings {
        put_number(&mut body, zigzag(reading.at_s));
        put_text(&mut body, &reading.subject);
        match reading.value {
            Some(value) => {
                body.push(1);
                put_entered(&mut body, value);
            }
            None => body.push(0),
        }
        put_text(&mut body, &reading.note);
    }
    if !design.log.trials.is_empty() {
        let mut trials = Vec::new();
        put_trials(&mut trials, &design.log.trials);
        put_section(&mut body, TRIALS, &trials);
        let mut more = Vec::new();
        put_more(&mut more, &design.log.trials);
        if !more.is_empty() {
            put_section(&mut body, MORE_OF_TRIALS, &more);
        }
    }
    body
}

/// The section of trials, and that of what they got to keep later; a page that does not know one passes it over.
const TRIALS: u64 = 1;
const MORE_OF_TRIALS: u64 = 2;

fn put_section(body: &mut Vec<u8>, number: u64, content: &[u8]) {
    put_number(body, number);
    put_number(body, content.len() as u64);
    body.extend_from_slice(content);
}

fn decode(body: &[u8]) -> Option<Opened> {
    let mut cursor = Cursor { bytes: body };
    let mut opened = Opened { design: Design::default(), repairs: Vec::new() };
    let mut code = 0_u64;
    for _ in 0..cursor.count()? {
        let tag = cursor.number()?;
        code = code.checked_add(tag >> 2)?;
        let entry = match tag & 3 {
            NUMBER => cursor.entered()?.map(Entry::Number),
            CHOICE => Some(Entry::Choice(cursor.byte()?)),
            TEXT => Some(Entry::Text(cursor.text()?.to_owned())),
            _ => return None,
        };
        let field = u16::try_from(code).ok().and_then(FieldId::from_code);
        let fits = match (field, entry) {
            (Some(id), Some(entry)) => opened.design.sheet.set(id, entry).is_ok(),
            _ => false,
        };
        if !fits {
            opened.repairs.push(Repair { field, text: String::new() });
        }
    }
    for _ in 0..cursor.count()? {
        let key = cursor.text()?;
        if let Some(size) = cursor.entered()? {
            opened.design.sheet.set_built(key, size);
        }
    }
    for _ in 0..cursor.count()? {
        let key = cursor.text()?;
        if is_key(key) {
            opened.design.log.ticks.insert(key.to_owned());
        }
    }
    for _ in 0..cursor.count()? {
        let at_s = unzigzag(cursor.number()?);
        let subject = cursor.text()?.to_owned();
        let value = if cursor.byte()? == 1 { cursor.entered()? } else { None };
        let note = clean_text(cursor.text()?, MAX_NOTE);
        if is_key(&subject) {
            opened.design.log.readings.push(Reading { at_s, subject, value, note });
        }
    }
    while !cursor.bytes.is_empty() {
        let number = cursor.number()?;
        let length = usize::try_from(cursor.number()?).ok()?;
        let mut section = Cursor { bytes: cursor.take(length)? };
        if number == TRIALS {
            opened.design.log.trials = take_trials(&mut section)?;
        } else if number == MORE_OF_TRIALS {
            take_more(&mut section, &mut opened.design.log.trials)?;
        }
    }
    Some(opened)
}

pub(super) fn put_number(bytes: &mut Vec<u8>, mut number: u64) {
    while number >= 0x80 {
        bytes.push(number as u8 | 0x80);
        number >>= 7;
    }
    bytes.push(number as u8);
}

pub(super) const fn zigzag(number: i64) -> u64 {
    ((number << 1) ^ (number >> 63)) as u64
}

pub(super) const fn unzigzag(number: u64) -> i64 {
    (number >> 1) as i64 ^ -((number & 1) as i64)
}

pub(super) fn put_text(bytes: &mut Vec<u8>, text: &str) {
    put_number(bytes, text.len() as u64);
    bytes.extend_from_slice(text.as_bytes());
}

/// Unit and places share a byte: units are at most 25, places at most 9.
fn put_entered(bytes: &mut Vec<u8>, entered: Entered) {
    bytes.push(entered.unit.code() * 10 + entered.number.places());
    put_number(bytes, zigzag(entered.number.mantissa()));
}

/// What is left to read. Every method gives `None` at the end instead of panicking.
pub(super) struct Cursor<'a> {
    bytes: &'a [u8],
}

impl<'a> Cursor<'a> {
    pub(super) fn take(&mut self, count: usize) -> Option<&'a [u8]> {
        let taken = self.bytes.get(..count)?;
        self.bytes = self.bytes.get(count..)?;
        Some(taken)
    }
    pub(super) fn byte(&mut self) -> Option<u8> {
        self.take(1)?.first().copied()
    }
    pub(super) fn number(&mut self) -> Option<u64> {
        let mut number = 0_u64;
        for shift in (0..64).step_by(7) {
            let byte = self.byte()?;
            number |= u64::from(byte & 0x7f).checked_shl(shift)?;
            if byte & 0x80 == 0 {
                return Some(number);
            }
        }
        None
    }
    fn count(&mut self) -> Option<usize> {
        usize::try_from(self.number()?).ok().filter(|count| *count <= MAX_LIST)
    }
    pub(super) fn text(&mut self) -> Option<&'a str> {
        let length = usize::try_from(self.number()?).ok()?;
        std::str::from_utf8(self.take(length)?).ok()
    }
    /// `Some(None)`: well formed, but of a unit this page does not know.
    fn entered(&mut self) -> Option<Option<Entered>> {
        let byte = self.byte()?;
        let mantissa = unzigzag(self.number()?);
        let unit = Unit::from_code(byte / 10);
        Some(unit.zip(Decimal::new(mantissa, byte % 10)).map(|(unit, number)| Entered { number, unit }))
    }
}
