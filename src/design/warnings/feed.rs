//! Doubts between battery and amplifier.
use super::Severity;
use crate::design::document::Sheet;
use crate::design::evaluate::feed::average;
use crate::design::limits::FieldId;
use crate::design::report::{FeedReport, FeedSide, Report};
use crate::model::electrical::amplifier::Output;
use crate::model::electrical::cable::{Material, Size};
use crate::model::electrical::tree::SegmentKind;
use crate::units::{Current, Length, Power, Temperature, Voltage};

/// A doubt about the feed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FeedWarning {
    /// The source can't deliver what the amplifier would take at any voltage.
    NoOperatingPoint {
        /// The most it can.
        most: Power,
        /// What would be taken at half its voltage.
        wanted: Power,
    },
    /// The battery can drive more through a short than the fuse breaks.
    Breaking {
        /// The short right behind the main fuse.
        at_fuse: Current,
    },
    /// The main fuse is further from the battery than custom has it.
    FuseFar {
        /// Along the cable.
        distance: Length,
    },
    /// A cable lies where it is hotter than its insulation stands.
    InsulationTooCool {
        /// Which.
        segment: SegmentKind,
        /// How hot it is there.
        ambient: Temperature,
        /// What the insulation stands.
        rating: Temperature,
    },
    /// No size does for a segment beside the main cable.
    NoSegment(SegmentKind),
    /// Two amplifiers on one load without their maker's word.
    StrapNotAllowed,
    /// The amplifier's own fuses can't pass what its rating needs.
    RatingBeyondFuse {
        /// What it needs.
        draw: Current,
        /// The fuses fitted.
        fitted: Current,
    },
    /// The alternator does not cover the average at hot idle.
    IdleShort {
        /// What it lacks.
        short: Current,
        /// Until the battery is at its reserve.
        hours: f64,
    },
    /// Nor driving.
    DrivingShort {
        /// What it lacks.
        short: Current,
    },
    /// The battery is at or below its reserve.
    BatteryLow,
    /// The amplifier's terminals fall below 10.5 V.
    LowAtAmplifier {
        /// To what.
        voltage: Voltage,
    },
    /// The cable proved to be another metal.
    NotCopper(Material),
    /// By mass or resistance alone the cable is less than sold: another metal, or thinner.
    NotAsSold {
        /// What it was sold as.
        size: Size,
    },
    /// The cable proved to be thinner than sold.
    ThinCopper {
        /// Its copper over what it should have.
        share: f64,
        /// What it was sold as.
        size: Size,
    },
}

impl FeedWarning {
    /// How grave it is.
    #[must_use]
    pub const fn severity(&self) -> Severity {
        match self {
            Self::NoOperatingPoint { .. }
            | Self::InsulationTooCool { .. }
            | Self::NoSegment(_)
            | Self::StrapNotAllowed
            | Self::NotCopper(_)
            | Self::NotAsSold { .. } => Severity::Stop,
            _ => Severity::Care,
        }
    }
}

/// Distance of a main fuse by the custom of the car trade, m (common practice, no source).
const FUSE_DISTANCE_M: f64 = 0.45;
/// Highest of the lower limits of supply in ISO 16750-2 Table 1 (code D), V.
const LOWEST_SUPPLY_V: f64 = 10.5;
/// Less copper than this share of the size sold is told; SAE vehicle cable has 89 % and more of AWG.
const THIN: f64 = 0.88;

/// Every doubt about the feed.
pub(super) fn all(feed: &FeedReport, sheet: &Sheet) -> Vec<FeedWarning> {
    let mut found = Vec::new();
    sources(feed, sheet, &mut found);
    segments(feed, sheet, &mut found);
    for side in [&feed.metric_side, &feed.gauge_side] {
        if let Some(doubt) = operation(side).filter(|doubt| !found.contains(doubt)) {
            found.push(doubt);
            break;
        }
    }
    amplifier(feed, sheet, &mut found);
    found
}

fn sources(feed: &FeedReport, sheet: &Sheet, found: &mut Vec<FeedWarning>) {
    let breaks = sheet.si(FieldId::FuseBreaking).unwrap_or(0.0);
    let short = [&feed.metric, &feed.gauge].into_iter().find_map(|list| list.choice()?.short);
    if let Some(short) = short.filter(|short| !short.interrupts && short.at_fuse.amperes() > breaks) {
        found.push(FeedWarning::Breaking { at_fuse: short.at_fuse });
    }
    if feed.fuse_distance_m > FUSE_DISTANCE_M + 1e-9 {
        found.push(FeedWarning::FuseFar { distance: Length::from_metres(feed.fuse_distance_m) });
    }
    let supply = &feed.supply;
    let short_at_idle = supply.balance.and_then(|balance| Some((balance, balance.idle_hours?)));
    if let Some((balance, hours)) = short_at_idle {
        let average = average(sheet, feed.draw).amperes();
        let short = |spare: Current| Current::from_amperes(average - spare.amperes());
        found.push(if balance.covers_driving {
            FeedWarning::IdleShort { short: short(balance.idle), hours }
        } else {
            FeedWarning::DrivingShort { short: short(balance.driving) }
        });
    }
    if supply.budget.usable_ah <= 0.0 && sheet.given(FieldId::RestVolts).is_some() {
        found.push(FeedWarning::BatteryLow);
    }
}

fn segments(feed: &FeedReport, sheet: &Sheet, found: &mut Vec<FeedWarning>) {
    let copper = sheet.choice_key(FieldId::CableMaterial) == "copper";
    for (metric, gauge) in feed.metric_side.segments.iter().zip(&feed.gauge_side.segments) {
        let first = metric.feed.options.first();
        if let Some(ampacity) = first.map(|option| option.ampacity).filter(|a| a.ambient_factor <= 0.0) {
            found.push(FeedWarning::InsulationTooCool {
                segment: metric.kind,
                ambient: metric.ambient,
                rating: ampacity.insulation.rating(),
            });
        } else if copper
            && metric.kind != SegmentKind::Main
            && (metric.feed.choice().is_none() || gauge.feed.choice().is_none())
        {
            found.push(FeedWarning::NoSegment(metric.kind));
        }
    }
}

fn operation(side: &FeedSide) -> Option<FeedWarning> {
    match side.running.as_ref()? {
        Err(none) => Some(FeedWarning::NoOperatingPoint { most: none.most, wanted: none.wanted }),
        Ok(point) if point.voltage.volts() < LOWEST_SUPPLY_V => {
            Some(FeedWarning::LowAtAmplifier { voltage: point.voltage })
        }
        Ok(_) => None,
    }
}

fn amplifier(feed: &FeedReport, sheet: &Sheet, found: &mut Vec<FeedWarning>) {
    let strapped = feed.amplifier.output() == Output::Strapped;
    if strapped && sheet.choice_key(FieldId::StrapAllowed) != "allowed" {
        found.push(FeedWarning::StrapNotAllowed);
    }
    if let (Some(false), Some(fitted)) = (feed.fuse_fits_rating, sheet.si(FieldId::AmplifierFuse)) {
        let fitted = Current::from_amperes(fitted);
        found.push(FeedWarning::RatingBeyondFuse { draw: feed.draw.worst_case, fitted });
    }
}

/// What a proved cable is, where it is not what it should be; needs no feed.
pub(super) fn proof(report: &Report) -> Option<FeedWarning> {
    let Some(Ok(report)) = &report.proof else { return None };
    let proof = &report.proof;
    let best = proof.metals.first()?;
    match (proof.by_both, proof.copper_fits, proof.of_claim, report.claimed) {
        (true, false, ..) if best.material != Material::Copper => Some(FeedWarning::NotCopper(best.material)),
        (false, false, Some(share), Some(size)) if share < THIN => Some(FeedWarning::NotAsSold { size }),
        (_, true, Some(share), Some(size)) if share < THIN => Some(FeedWarning::ThinCopper { share, size }),
        _ => None,
    }
}
