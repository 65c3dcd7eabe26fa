//! Doubts between battery and amplifier, in words.
use crate::design::warnings::FeedWarning;
use crate::present::format::{fixed, si};
use crate::present::{names, tables};
use crate::units::{Quantity, UnitPrefs};
use crate::words::feed as words;

/// A doubt as a sentence or two.
#[inline(never)] // rare, so that it may come after the first result
pub(super) fn text(warning: &FeedWarning, prefs: &UnitPrefs) -> String {
    let watts = |p: crate::units::Power| format!("{}\u{a0}W", fixed(p.watts(), 0));
    let amperes = |i: crate::units::Current| format!("{}\u{a0}A", fixed(i.amperes(), 0));
    let degrees = |t: crate::units::Temperature| si(t.celsius(), Quantity::Temperature, prefs).to_string();
    match warning {
        FeedWarning::NoOperatingPoint { most, wanted } => words::no_point(&watts(*most), &watts(*wanted)),
        FeedWarning::Breaking { at_fuse } => words::breaking(&amperes(*at_fuse)),
        FeedWarning::FuseFar { distance } => {
            words::fuse_far(&si(distance.metres(), Quantity::Length, prefs).to_string())
        }
        FeedWarning::InsulationTooCool { segment, ambient, rating } => {
            words::insulation_cool(&names::segment(*segment), &degrees(*ambient), &degrees(*rating))
        }
        FeedWarning::NoSegment(segment) => words::no_segment(&names::segment(*segment)),
        FeedWarning::StrapNotAllowed => words::STRAP_NOT_ALLOWED.into(),
        FeedWarning::RatingBeyondFuse { draw, fitted } => {
            words::rating_beyond_fuse(&amperes(*draw), &amperes(*fitted))
        }
        FeedWarning::IdleShort { short, hours } => {
            words::idle_short(&amperes(*short), &tables::hours(*hours))
        }
        FeedWarning::DrivingShort { short } => words::driving_short(&amperes(*short)),
        FeedWarning::BatteryLow => words::BATTERY_LOW.into(),
        FeedWarning::LowAtAmplifier { voltage } => {
            words::low_at_amplifier(&format!("{}\u{a0}V", fixed(voltage.volts(), 1)))
        }
        FeedWarning::NotCopper(material) => words::not_copper(names::metal(*material)),
        FeedWarning::NotAsSold { size } => words::not_as_sold(&tables::size(*size)),
        FeedWarning::ThinCopper { share, size } => {
            words::thin_copper(&format!("{}\u{a0}%", fixed(100.0 * share, 0)), &tables::size(*size))
        }
    }
}
