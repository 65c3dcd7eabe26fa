//! Warnings in words: what is so, what it means, what to do.
mod feed;

use super::figures::hertz;
use super::format::{fixed, length, si};
use super::names;
use crate::design::strips;
use crate::design::warnings::Warning;
use crate::model::acoustics::datasheet::{Cause, Connection, Contradiction, Parameter};
use crate::model::geometry::{BodyKind, Fact, PartId};
use crate::units::{ExactLength, Quantity, UnitPrefs};
use crate::words::{acoustics, faces, name, say};

/// A warning as a sentence or two.
#[must_use]
pub fn text(warning: &Warning, prefs: &UnitPrefs) -> String {
    match warning {
        Warning::DataSheet(found) => contradiction(found, prefs),
        Warning::Travel { travel, at, limit, safe_above, filtered } => say::travel(
            &fixed(travel.millimetres(), 1),
            &hertz(at.hertz()),
            &fixed(limit.millimetres(), 1),
            safe_above.map(|f| hertz(f.hertz())).as_deref(),
            *filtered,
        ),
        other => rarer(other, prefs),
    }
}

#[inline(never)] // the first picture does without these
fn rarer(warning: &Warning, prefs: &UnitPrefs) -> String {
    let volume = |v: crate::units::Volume| si(v.cubic_metres(), Quantity::Volume, prefs).to_string();
    let watts = |p: crate::units::Power| format!("{}\u{a0}W", fixed(p.watts(), 0));
    match warning {
        // Told above.
        Warning::DataSheet(_) | Warning::Travel { .. } => String::new(),
        Warning::PortSpeed { velocity_m_s, at } => {
            say::port_speed(&fixed(*velocity_m_s, 0), &hertz(at.hertz()))
        }
        Warning::CoilPower { power, limit } => say::coil_power(&watts(*power), &watts(*limit)),
        Warning::BeyondAmplifier { power, limit } => say::beyond_amplifier(&watts(*power), &watts(*limit)),
        Warning::AmplifierPower { power, limit } => say::amplifier_power(&watts(*power), &watts(*limit)),
        Warning::RadiatorTravel { travel, at, limit } => acoustics::radiator_travel(
            &fixed(travel.millimetres(), 1),
            &hertz(at.hertz()),
            &fixed(limit.millimetres(), 1),
        ),
        Warning::Clipped { at } => acoustics::clipped(&hertz(at.hertz())),
        Warning::Sag { sag, limit } => {
            acoustics::sag(&fixed(sag.millimetres(), 1), &fixed(100.0 * sag.metres() / limit.metres(), 0))
        }
        Warning::FloorGap { gap, least } => {
            let show = |l: &crate::units::Length| si(l.metres(), Quantity::Length, prefs).to_string();
            acoustics::floor_gap(&show(gap), &show(least))
        }
        Warning::Load { load, least } => say::load_too_low(&fixed(load.ohms(), 2), &fixed(least.ohms(), 2)),
        Warning::LeastLoad { least, at, allowed } => {
            say::least_load(&fixed(least.ohms(), 2), &hertz(at.hertz()), &fixed(allowed.ohms(), 2))
        }
        Warning::UnequalPower { most: (most, p), least: (least, q) } => {
            let percent = |share: &f64| fixed(100.0 * share, 0);
            say::unequal_power(&most.to_string(), &percent(p), &least.to_string(), &percent(q))
        }
        Warning::WiringUnread => say::WIRING_UNREAD.into(),
        Warning::TooLarge { wanted, largest } => say::too_large(&volume(*wanted), &volume(*largest)),
        Warning::Tuning { tuning, wanted } => {
            say::tuning_missed(&fixed(tuning.hertz(), 1), &fixed(wanted.hertz(), 1))
        }
        Warning::NoStripTicked => crate::words::wood::NO_STRIP_TICKED.into(),
        Warning::StripsAtDivider { count } => crate::words::wood::strips_at_divider(*count),
        Warning::Door { over } => crate::words::testbox::no_door(&length(*over, prefs).to_string()),
        Warning::Askew { pair, dimension, by } => {
            let [short, other] = pair.map(|id| names::piece(id).unwrap_or(""));
            say::askew(short, other, names::dimension(*dimension), &length(*by, prefs).to_string())
        }
        Warning::Clearance(doubt) => super::clearance::say(doubt, prefs),
        Warning::KeepOut(hit) => super::space::hit(hit, prefs),
        Warning::Fact(found) => fact(found, prefs),
        Warning::NoCable => say::NO_CABLE.into(),
        Warning::CoveredByNoTable => say::CCA_NO_TABLE.into(),
        Warning::PowerNotRated => say::POWER_NOT_RATED.into(),
        Warning::Feed(found) => feed::text(found, prefs),
    }
}

const fn parameter(p: Parameter) -> &'static str {
    match p {
        Parameter::Fs => "fs",
        Parameter::Qes => "Qes",
        Parameter::Qms => "Qms",
        Parameter::Vas => "Vas",
        Parameter::Sd => "Sd",
        Parameter::Re => "Re",
        Parameter::Qts => "Qts",
        Parameter::Mms => "Mms",
        Parameter::Cms => "Cms",
        Parameter::Bl => "Bl",
        Parameter::Xmax => "Xmax",
        Parameter::Vd => "Vd",
        Parameter::Le => "Le",
    }
}

const fn quantity(p: Parameter) -> Quantity {
    match p {
        Parameter::Fs => Quantity::Frequency,
        Parameter::Qes | Parameter::Qms | Parameter::Qts => Quantity::Ratio,
        Parameter::Vas | Parameter::Vd => Quantity::Volume,
        Parameter::Sd => Quantity::Area,
        Parameter::Re => Quantity::Resistance,
        Parameter::Mms => Quantity::Mass,
        Parameter::Cms => Quantity::Compliance,
        Parameter::Bl => Quantity::ForceFactor,
        Parameter::Xmax => Quantity::Length,
        Parameter::Le => Quantity::Inductance,
    }
}

const fn connection(c: Connection) -> &'static str {
    match c {
        Connection::OneCoil => crate::words::label::ONE_COIL,
        Connection::Series => crate::words::label::SERIES,
        Connection::Parallel => crate::words::label::PARALLEL,
    }
}

fn cause(cause: &Cause) -> String {
    match cause {
        Cause::MeasuredIn(c) => say::cause_measured(connection(*c)),
        Cause::ResistanceOfConnection => say::CAUSE_RESISTANCE.into(),
        Cause::ResistanceOfOtherConnection { factor } => say::cause_other_connection(*factor > 1.0),
        Cause::Unit { parameter: p, factor } => say::cause_unit(parameter(*p), &format_factor(*factor)),
        Cause::XmaxPeakToPeak => say::CAUSE_XMAX.into(),
        Cause::VdPeakToPeak => say::CAUSE_VD.into(),
    }
}

fn format_factor(factor: f64) -> String {
    if factor >= 1.0 { format!("× {}", fixed(factor, 1)) } else { format!("÷ {}", fixed(1.0 / factor, 1)) }
}

#[inline(never)] // rare, so that it may come after the first result
fn contradiction(found: &Contradiction, prefs: &UnitPrefs) -> String {
    let show = |value: f64| si(value, quantity(found.parameter), prefs).to_string();
    let causes: Vec<String> = found.causes.iter().take(2).map(cause).collect();
    say::contradiction(
        parameter(found.parameter),
        &show(found.printed.value),
        &show(found.expected_low),
        &show(found.expected_high),
        &causes.join(" "),
    )
}

/// Two things that lie in one another, and by how much: a distance below zero means nothing to a reader.
#[inline(never)] // rare, so that it may come after the first result
fn in_one_another(found: &Fact) -> Option<(say::InOneAnother, ExactLength)> {
    let (text, gap) = match *found {
        Fact::MagnetToBack { gap } | Fact::PoleVent { gap, .. } => (say::REAR_IN_BACK, gap),
        Fact::MagnetToSide { gap } => (say::REAR_IN_SIDE, gap),
        Fact::PortToBack { gap, .. } => (say::PORT_IN_BACK, gap),
        Fact::FlangeToEdge { gap, .. } => (say::FLANGE_PAST_EDGE, gap),
        Fact::FlangeToFlange { gap } => (say::FLANGES_MEET, gap),
        Fact::FlangeToPort { gap, .. } => (say::FLANGE_OVER_PORT, gap),
        Fact::CutoutToWall { gap, .. } => (say::HOLE_IN_WALL, gap),
        Fact::RadiatorToEdge { gap, .. } => (say::RADIATOR_PAST_EDGE, gap),
        Fact::RadiatorToFlange { gap } => (say::RADIATOR_OVER_NEXT, gap),
        Fact::RadiatorToWall { gap, .. } => (say::RADIATOR_IN_WALL, gap),
        Fact::RadiatorBehind { gap } => (say::RADIATOR_IN_BOARD, gap),
        Fact::TubeToWall { gap, .. } => (say::TUBE_IN_WALL, gap),
        Fact::TubeToTube { gap } => (say::TUBES_MEET, gap),
        Fact::TerminalToWall { gap } => (say::TERMINAL_IN_WALL, gap),
        _ => return None,
    };
    (gap < ExactLength::ZERO).then_some((text, -gap))
}

/// A body's name; of a corner strip with the edge it stands in, as there may be several.
fn body_in_place(kind: BodyKind) -> String {
    let edge = match kind {
        BodyKind::Strip(edge) | BodyKind::StripVoid(edge) => strips::boards_at(edge),
        _ => None,
    };
    let name = body(kind);
    edge.map_or_else(|| name.into(), |edge| crate::words::wood::in_edge(name, edge.row().label))
}

const fn body(kind: BodyKind) -> &'static str {
    match kind {
        BodyKind::Board(id) => names::part(id.name()),
        BodyKind::Strip(_) | BodyKind::StripVoid(_) => name::CORNER_STRIP,
        BodyKind::Driver(_) | BodyKind::DriverHole(_) | BodyKind::Recess(_) => name::DRIVERS,
        BodyKind::PortMouth(_) | BodyKind::PortAir(_) => name::PORT_AIR,
        BodyKind::PortTube(_) => name::PORT_TUBE,
        BodyKind::TerminalHole | BodyKind::TerminalWindow => name::TERMINAL_HOLE,
        BodyKind::TerminalCup => name::TERMINAL_CUP,
        BodyKind::Batten(_) => faces::BATTENS,
        BodyKind::LegWindow(_) => crate::words::testbox::LEG_WINDOW,
        BodyKind::RadiatorHole(_) | BodyKind::Radiator(_) => name::RADIATORS,
    }
}

#[inline(never)] // rare, so that it may come after the first result
fn fact(found: &Fact, prefs: &UnitPrefs) -> String {
    let show = |l: ExactLength| length(l, prefs).to_string();
    if let Some(([before, after], by)) = in_one_another(found) {
        return format!("{before}{}{after}", show(by));
    }
    match *found {
        Fact::MagnetToBack { gap } => say::magnet_to_back(&show(gap)),
        Fact::PoleVent { gap, wanted } => say::pole_vent(&show(gap), &show(wanted)),
        Fact::PortToBack { gap, wanted } => say::port_to_back(&show(gap), &show(wanted)),
        Fact::FlangeToEdge { gap, wanted, .. } => say::flange_to_edge(&show(gap), &show(wanted)),
        Fact::FlangeToFlange { gap } => say::flange_to_flange(&show(gap)),
        Fact::FlangeToPort { gap, .. } => say::flange_to_port(&show(gap)),
        Fact::CutoutToWall { gap, .. } => say::cutout_to_wall(&show(gap)),
        Fact::MagnetToSide { gap } => say::magnet_to_side(&show(gap)),
        Fact::MagnetToBoard { gap, .. } => faces::magnet_to_board(&show(-gap)),
        Fact::MagnetToMagnet { gap } => faces::magnet_to_magnet(&show(-gap)),
        Fact::TerminalBeside { gap } if gap < ExactLength::ZERO => faces::terminal_over(&show(-gap)),
        Fact::TerminalBeside { gap } => faces::terminal_beside(&show(gap)),
        Fact::RadiatorToEdge { gap, wanted, .. } => say::radiator_to_edge(&show(gap), &show(wanted)),
        Fact::RadiatorToFlange { gap } => say::radiator_to_flange(&show(gap)),
        Fact::RadiatorToWall { gap, .. } => say::radiator_to_wall(&show(gap)),
        Fact::RadiatorBehind { gap } => say::radiator_behind(&show(gap)),
        Fact::TubeToWall { gap, .. } => say::tube_to_wall(&show(gap)),
        Fact::TubeToTube { gap } => say::tube_to_tube(&show(gap)),
        Fact::TerminalToWall { gap } => say::terminal_to_wall(&show(gap)),
        Fact::WoodBehindRecess { left, wanted } => say::wood_behind_recess(&show(left), &show(wanted)),
        Fact::Overlap { a, b } => {
            let mut text = say::overlap(&body_in_place(a), &body_in_place(b));
            if [a, b].iter().any(|kind| matches!(kind, BodyKind::Board(PartId::Brace(..)))) {
                text.push_str(say::BRACE_IN_MIDDLE);
            }
            text
        }
        Fact::CutoutOverStrip { .. } => say::CUTOUT_OVER_STRIP.into(),
        Fact::Space { axis, spare } => say::no_space(names::axis(axis), &show(-spare)),
        Fact::SlantedSpace { spare } => say::slanted_space(&show(-spare)),
        Fact::StripsLeftOut { count } => say::strips_left_out(count),
        Fact::StripsInSlot { count } => say::strips_in_slot(count),
        Fact::ThinBoard { thickness, wanted } => say::thin_board(&show(thickness), &show(wanted)),
        Fact::Unequal { axis, inside, difference } => {
            say::unequal(names::axis(axis), &show(inside), &show(difference))
        }
        Fact::UnequalPort { difference } => say::unequal_port(&show(difference)),
        Fact::Cover { part, dimension, over } => {
            let (part, dimension) = (names::part(part.name()), names::dimension(dimension));
            if over > ExactLength::ZERO {
                say::cover_long(part, dimension, &show(over))
            } else {
                say::cover_short(part, dimension, &show(-over))
            }
        }
    }
}
