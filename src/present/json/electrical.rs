//! Wiring and feed as JSON.
mod supply;

use serde_json::{Value, json};

use super::Object;
use crate::design::report::{
    FeedReport, FeedSide, Measure, MeasureKind, Operation, Part, ProofReport, WiringOption, WiringReport,
};
use crate::model::electrical::amplifier::{PowerAtLoad, PowerBasis, SupplyDraw};
use crate::model::electrical::cable::{Material, Size};
use crate::model::electrical::feed::{Feed, FeedFailure, FeedOption};
use crate::model::electrical::fuse::{FuseChoice, NoFuse};
use crate::model::electrical::tree::Segment;
use crate::units::Power;

/// Every wiring, and the one in use.
pub(super) fn wiring(report: &WiringReport) -> Value {
    let options = report.options.iter().map(|each| option(each, report));
    Object::new()
        .with("drivers", report.coils.driver_count())
        .with("coils", report.coils.ids().len())
        .with("speaker_cable_ohm", report.cable.ohms())
        .maybe("chosen", report.chosen().map(|chosen| chosen.notation.clone()))
        .with("chosen_by_user", report.by_user)
        .with("options", options.collect::<Vec<_>>())
        .into()
}

fn option(option: &WiringOption, report: &WiringReport) -> Value {
    // Shares by the tree itself, not by the count of coils.
    let shares = option.tree.figures(&report.coils).map(|figures| figures.shares).unwrap_or_default();
    let shares = shares.iter().map(|share| {
        json!({
            "coil": share.coil.to_string(),
            "power_share": share.power,
            "voltage_share": share.voltage,
            "current_share": share.current,
        })
    });
    Object::new()
        .with("notation", option.notation.clone())
        .with("nominal_ohm", option.nominal.ohms())
        .with("reading_ohm", option.reading.ohms())
        .with("reading_low_ohm", option.reading_low.ohms())
        .with("reading_high_ohm", option.reading_high.ohms())
        .with("shares", shares.collect::<Vec<_>>())
        .maybe("power", option.power.as_ref().map(power))
        .into()
}

fn power(power: &PowerAtLoad) -> Value {
    Object::new()
        .with("low_w", power.low.watts())
        .with("high_w", power.high.watts())
        .maybe("interpolated_w", power.interpolated.map(Power::watts))
        .with(
            "basis",
            match power.basis {
                PowerBasis::Rated => "rated",
                PowerBasis::BetweenRated => "not rated, between ratings",
                PowerBasis::OutsideRated => "not rated, outside the ratings",
            },
        )
        .with("scaled_to_supply", power.supply_scaled)
        .with("stable", power.stable)
        .into()
}

/// Power, draw, gain, the feed in both lists of sizes, and all that hangs on it.
pub(super) fn feed(report: &FeedReport) -> Value {
    Object::new()
        .with("power", power(&report.power))
        .with("gain_v", report.gain.volts())
        .with("draw", draw(&report.draw))
        .with("metric", sizes(&report.metric))
        .with("gauge", sizes(&report.gauge))
        .with("metric_feed", side(&report.metric_side))
        .with("gauge_feed", side(&report.gauge_side))
        .with("gain_plan", supply::plan(&report.plan))
        .with("supply", supply::supply(&report.supply))
        .with("speaker_line", supply::line(&report.line))
        .maybe("real_power", report.real.as_ref().map(supply::real))
        .maybe("capacitor", report.capacitor.as_ref().map(supply::capacitor))
        .with("least_load_ohm", report.amplifier.least_load().ohms())
        .with("efficiency", report.amplifier.efficiency())
        .with("fuse_distance_m", report.fuse_distance_m)
        .maybe("fitted_fuse_passes_rating", report.fuse_fits_rating)
        .into()
}

/// What weighing or measuring a cable proved.
pub(super) fn proof(proof: &Part<ProofReport>) -> Value {
    supply::proof(proof)
}

fn draw(draw: &SupplyDraw) -> Value {
    json!({
        "worst_case_a": draw.worst_case.amperes(),
        "average_a": draw.average.amperes(),
        "music_share": draw.music_share,
    })
}

fn side(side: &FeedSide) -> Value {
    Object::new()
        .with("segments", side.segments.iter().map(segment).collect::<Vec<_>>())
        .maybe("drop_percent", side.drop_percent)
        .maybe("engine_running", side.running.as_ref().map(operation))
        .maybe("engine_running_power_w", side.running_power.map(Power::watts))
        .maybe("battery_alone", side.resting.as_ref().map(operation))
        .maybe("battery_alone_power_w", side.resting_power.map(Power::watts))
        .with("measure", side.measure.iter().map(measure).collect::<Vec<_>>())
        .into()
}

fn segment(segment: &Segment) -> Value {
    Object::new()
        .with("name", crate::present::names::segment(segment.kind))
        .with("draw", draw(&segment.draw))
        .with("one_way_m", segment.one_way.metres())
        .with("ambient_celsius", segment.ambient.celsius())
        .with("fused_ends", segment.fused_ends)
        .maybe("chosen", segment.feed.choice().map(cable))
        .into()
}

fn operation(operation: &Operation) -> Value {
    match operation {
        Ok(point) => json!({
            "voltage_v": point.voltage.volts(),
            "current_a": point.current.amperes(),
            "power_in_w": point.power.watts(),
            "sag_v": point.sag.volts(),
        }),
        Err(none) => json!({
            "none": true,
            "most_w": none.most.watts(),
            "wanted_w": none.wanted.watts(),
        }),
    }
}

fn measure(measure: &Measure) -> Value {
    let (low, high) = match measure.kind {
        MeasureKind::Drain => ("low_a", "high_a"),
        _ => ("low_v", "high_v"),
    };
    Object::new()
        .with("subject", measure.kind.key())
        .with(low, measure.low)
        .with(high, measure.high)
        .maybe("at_a", measure.at.map(|current| current.amperes()))
        .into()
}

fn sizes(feed: &Feed) -> Value {
    Object::new()
        .maybe("chosen", feed.choice().map(cable))
        .with("options", feed.options.iter().map(cable).collect::<Vec<_>>())
        .into()
}

fn cable(option: &FeedOption) -> Value {
    let failures = option.failures.iter().map(|failure| match failure {
        FeedFailure::Ampacity => "ampacity",
        FeedFailure::Drop => "drop",
        FeedFailure::Fuse => "fuse",
        FeedFailure::Short => "short circuit",
        FeedFailure::NoTable => "no ampacity table",
    });
    let size = option.cable.size;
    let unit = match size {
        Size::Metric(_) => "size_mm2",
        Size::Awg(_) | Size::SaeVehicle(_) => "size_awg",
    };
    let (fuse, no_fuse) = match &option.fuse {
        Ok(fuse) => (Some(fuse), None),
        Err(why) => (None, Some(no_fuse(why))),
    };
    Object::new()
        .with(unit, size.to_string())
        .with(
            "material",
            match option.cable.material {
                Material::Copper => "copper",
                Material::CopperCladAluminium => "copper-clad aluminium",
                Material::Aluminium => "aluminium",
            },
        )
        .with("ampacity_a", option.ampacity.current.amperes())
        .with("conductor_celsius", option.conductor.celsius())
        .with("loop_ohm", option.loop_resistance.ohms())
        .with("drop_v", option.drop.volts())
        .with("drop_percent", option.drop_percent)
        .maybe("fuse_a", fuse.map(|fuse| fuse.rating.amperes()))
        .maybe("fuse_families", fuse.map(families))
        .maybe("no_fuse", no_fuse)
        .maybe(
            "short",
            option.short.map(|short| {
                Object::new()
                    .with("at_fuse_a", short.at_fuse.amperes())
                    .with("far_end_a", short.far_end.amperes())
                    .with("far_end_over_rating", short.over_rating)
                    .maybe("opens_within_s", short.opens_within.map(|time| time.as_secs_f64()))
                    .with("fuse_interrupts", short.interrupts)
            }),
        )
        .with("regulatory_ceiling_a", option.regulatory_ceiling.amperes())
        .with("failures", failures.collect::<Vec<_>>())
        .into()
}

fn families(fuse: &FuseChoice) -> Vec<&'static str> {
    fuse.offers.iter().map(|offer| offer.family.standard()).collect()
}

fn no_fuse(why: &NoFuse) -> Value {
    match why {
        NoFuse::CableBelowLoad => json!({ "why": "the cable carries less than the load" }),
        NoFuse::NoneBetween { next_above_load } => json!({
            "why": "no standard rating between load and ampacity",
            "next_above_load_a": next_above_load.amperes(),
        }),
        NoFuse::ShortTooWeak { far_end } => json!({
            "why": "a short at the far end does not open it",
            "far_end_a": far_end.amperes(),
        }),
        NoFuse::NoneForLoad => json!({ "why": "no standard rating for the load" }),
    }
}
