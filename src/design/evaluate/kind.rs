//! The kinds of enclosure as a choice, and each as the acoustics describe it.
use super::enclosure::{
    Which, acoustic_port, chamber_port, front_opening, planned_port, wanted_front, wanted_front_tuning,
    wanted_net, wanted_tuning,
};
use super::rings::is_stack;
use super::{Filled, missing};
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::{BoxReport, Part};
use crate::model::acoustics::{
    Air, Enclosure, Load, Losses, PassiveRadiator, SealedChamber, VentedChamber, closed_box_frequency,
    closed_box_q,
};
use crate::units::{Area, Compliance, Frequency, Mass, Volume};
use std::f64::consts::TAU;

/// What kind of enclosure is chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    Closed,
    Vented,
    InfiniteBaffle,
    PassiveRadiator,
    Bandpass4,
    Bandpass6Outward,
    Bandpass6Inward,
    PushPull,
}

impl Kind {
    pub(super) fn of(sheet: &Sheet) -> Self {
        match sheet.choice_key(FieldId::BoxKind) {
            "vented" => Self::Vented,
            "infinite baffle" => Self::InfiniteBaffle,
            "passive radiator" => Self::PassiveRadiator,
            "bandpass 4" => Self::Bandpass4,
            "bandpass 6 outward" => Self::Bandpass6Outward,
            "bandpass 6 inward" => Self::Bandpass6Inward,
            "push-pull" => Self::PushPull,
            _ => Self::Closed,
        }
    }

    /// Whether the default volume comes from a wanted Qtc.
    pub(super) const fn is_closed_behind(self) -> bool {
        matches!(self, Self::Closed | Self::Bandpass4 | Self::PushPull)
    }
}

/// An enclosure with what one asks of it first.
pub(super) struct Described {
    pub(super) net: Volume,
    pub(super) enclosure: Enclosure,
    /// fs, fc or the tuning that goes with the kind.
    pub(super) resonance: Frequency,
    /// Qts or Qtc of kinds closed behind the cone.
    pub(super) q: Option<f64>,
}

/// What a description rests on.
pub(super) struct Base<'a> {
    pub(super) sheet: &'a Sheet,
    pub(super) load: &'a Load,
    pub(super) plan: Option<&'a BoxReport>,
    pub(super) air: Air,
}

impl Base<'_> {
    fn losses(&self) -> Losses {
        Losses { ql: self.sheet.si(FieldId::Leakage), qa: self.sheet.si(FieldId::Absorption) }
    }

    /// The net volume as cut; while it can't be cut, the one asked for.
    fn net(&self, filled: &mut Filled) -> Part<Volume> {
        match self.plan {
            Some(plan) => Ok(plan.plan.net()),
            None if is_stack(self.sheet) => super::rings::net(self, filled),
            None => wanted_net(self.sheet, Some(self.load), &self.air, filled),
        }
    }

    fn sealed(&self, volume: Volume) -> Part<SealedChamber> {
        let gain = self.sheet.si(FieldId::Stuffing).unwrap_or(0.0);
        Ok(SealedChamber { volume, losses: self.losses() }.stuffed(gain)?)
    }

    /// The chamber behind the cones with its port as cut, or as the wanted tuning needs it.
    fn vented(&self, net: Volume, filled: &mut Filled) -> Part<VentedChamber> {
        let port = match self.plan.and_then(|plan| plan.plan.current().assembly.port) {
            Some(port) => acoustic_port(&port, self.sheet, Which::Behind),
            None => {
                let tuning = wanted_tuning(self.sheet, Some(net), Some(self.load), &self.air, filled)?;
                planned_port(self.sheet, net, tuning, &self.air)?
            }
        };
        Ok(VentedChamber { volume: net, losses: self.losses(), port })
    }

    /// The chamber before the cones; `behind` is what it is tuned by where nothing is typed.
    fn front(&self, behind: Frequency, filled: &mut Filled) -> Part<VentedChamber> {
        let build = self.plan.map(|plan| plan.plan.current());
        let cut = build.and_then(|build| Some((build.assembly.front_port?, build.front_room.as_ref()?.net)));
        if let Some((port, volume)) = cut {
            return Ok(VentedChamber {
                volume,
                losses: self.losses(),
                port: acoustic_port(&port, self.sheet, Which::Before),
            });
        }
        let volume = wanted_front(self.sheet, self.load, &self.air, filled)?;
        let tuning = wanted_front_tuning(self.sheet, behind, filled);
        let (opening, count) = front_opening(self.sheet, None)?;
        let given = self.sheet.given(FieldId::FrontPortLength);
        let port =
            chamber_port(self.sheet, opening, count, given, (tuning, volume), &self.air, Which::Before)?;
        if given.is_none() {
            filled.insert(FieldId::FrontPortLength, port.length.metres());
        }
        Ok(VentedChamber { volume, losses: self.losses(), port })
    }
}

/// The enclosure of a sheet.
pub(super) fn describe(base: &Base<'_>, filled: &mut Filled) -> Part<Described> {
    let (load, air) = (base.load, &base.air);
    match Kind::of(base.sheet) {
        Kind::Closed => {
            let net = base.net(filled)?;
            let rear = base.sealed(net)?;
            let (resonance, q) = closed(load, &rear, air)?;
            Ok(Described { net, enclosure: Enclosure::Closed { rear }, resonance, q })
        }
        Kind::Vented => vented(base, filled),
        Kind::InfiniteBaffle => infinite_baffle(load, air),
        Kind::PassiveRadiator => with_radiators(base, filled),
        Kind::Bandpass4 => bandpass4(base, filled),
        Kind::Bandpass6Outward => {
            bandpass6(base, filled, |rear, front| Enclosure::Bandpass6Parallel { rear, front })
        }
        Kind::Bandpass6Inward => {
            bandpass6(base, filled, |rear, front| Enclosure::Bandpass6Series { rear, front })
        }
        Kind::PushPull => push_pull(base, filled),
    }
}

/// Resonance and Q of drivers on a closed chamber.
fn closed(load: &Load, rear: &SealedChamber, air: &Air) -> Part<(Frequency, Option<f64>)> {
    Ok((closed_box_frequency(load, rear.volume, air)?, Some(closed_box_q(load, rear.volume, air)?)))
}

#[inline(never)]
fn vented(base: &Base<'_>, filled: &mut Filled) -> Part<Described> {
    let net = base.net(filled)?;
    let rear = base.vented(net, filled)?;
    let resonance = rear.port.tuning(net, &base.air)?;
    Ok(Described { net, enclosure: Enclosure::Vented { rear }, resonance, q: None })
}

#[inline(never)]
fn infinite_baffle(load: &Load, air: &Air) -> Part<Described> {
    let set = load.driver.small_signal(air)?;
    Ok(Described {
        net: Volume::from_litres(0.0),
        enclosure: Enclosure::InfiniteBaffle,
        resonance: set.fs,
        q: Some(set.qts()),
    })
}

#[inline(never)]
fn with_radiators(base: &Base<'_>, filled: &mut Filled) -> Part<Described> {
    let net = base.net(filled)?;
    let (rear, radiator) = (base.sealed(net)?, passive_radiator(base.sheet)?);
    let resonance = radiator.tuning(rear.volume, &base.air)?;
    Ok(Described { net, enclosure: Enclosure::PassiveRadiator { rear, radiator }, resonance, q: None })
}

#[inline(never)]
fn bandpass4(base: &Base<'_>, filled: &mut Filled) -> Part<Described> {
    let net = base.net(filled)?;
    let rear = base.sealed(net)?;
    let (resonance, q) = closed(base.load, &rear, &base.air)?;
    let front = base.front(resonance, filled)?;
    Ok(Described { net, enclosure: Enclosure::Bandpass4 { rear, front }, resonance, q })
}

#[inline(never)]
fn bandpass6(
    base: &Base<'_>,
    filled: &mut Filled,
    joined: fn(VentedChamber, VentedChamber) -> Enclosure,
) -> Part<Described> {
    let net = base.net(filled)?;
    let rear = base.vented(net, filled)?;
    let resonance = rear.port.tuning(net, &base.air)?;
    // Twice the rear tuning spreads the band over an octave; common practice, no source.
    let front = base.front(Frequency::from_hertz(2.0 * resonance.hertz()), filled)?;
    Ok(Described { net, enclosure: joined(rear, front), resonance, q: None })
}

#[inline(never)]
fn push_pull(base: &Base<'_>, filled: &mut Filled) -> Part<Described> {
    let net = base.net(filled)?;
    let rear = base.sealed(net)?;
    let (resonance, q) = closed(&base.load.in_pairs()?, &rear, &base.air)?;
    Ok(Described { net, enclosure: Enclosure::PushPull { rear }, resonance, q })
}

/// The passive radiators as entered, each with its added weight: that lowers the resonance and raises the Q alike.
#[inline(never)] // not every box needs it: it may come after the first result
pub(crate) fn passive_radiator(sheet: &Sheet) -> Part<PassiveRadiator> {
    let needed = [FieldId::RadiatorArea, FieldId::RadiatorMass, FieldId::RadiatorResonance];
    let lacking: Vec<FieldId> = needed.into_iter().filter(|id| sheet.given(*id).is_none()).collect();
    let values = (sheet.si(needed[0]), sheet.si(needed[1]), sheet.si(needed[2]));
    let (Some(area), Some(mass), Some(fs)) = values else { return Err(missing(&lacking)) };
    let omega = TAU * fs;
    Ok(PassiveRadiator {
        sd: Area::from_square_metres(area),
        mms: Mass::from_kilograms(mass + sheet.si(FieldId::RadiatorWeight).unwrap_or(0.0)),
        cms: Compliance::from_metres_per_newton(1.0 / (omega * omega * mass)),
        rms_ns_m: omega * mass / sheet.si(FieldId::RadiatorQ).unwrap_or(8.0),
        count: sheet.choice_key(FieldId::RadiatorCount).parse().unwrap_or(1),
    })
}
