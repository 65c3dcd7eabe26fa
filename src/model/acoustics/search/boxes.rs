//! Candidates: from a place in the grid to an enclosure that fits the room.

use super::brief::{Brief, Tube};
use super::room::{Behind, Placed, Rounds};
use crate::model::acoustics::{Enclosure, End, Opening, PassiveRadiator, Port, SealedChamber, VentedChamber};
use crate::units::{Frequency, Length, Mass, Volume};

/// Smallest net volume looked at, m³.
const SMALLEST_M3: f64 = 0.002;
/// Smallest and largest share of a band-pass's air before the cone.
const FRONT_SHARE: [f64; 2] = [0.1, 0.8];
/// Highest tuning behind and before the cone of a band-pass with two pipes, Hz: higher ones can't be entered, and lie far
/// above what a subwoofer is for.
const HIGHEST_HZ: [f64; 2] = [150.0, 300.0];
/// Largest moving mass of a weighted passive radiator, times its own.
const HEAVIEST: f64 = 6.0;

/// A kind of box that a search looks at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Closed.
    Closed,
    /// Vented by straight round pipes.
    Vented,
    /// With passive radiators, weighted as needed.
    PassiveRadiator,
    /// 4th-order band-pass: closed behind the cone, vented before it.
    Bandpass,
    /// 6th-order band-pass: vented outside behind and before the cone.
    Bandpass6Outward,
    /// 6th-order band-pass: vented behind the cone into the chamber before it, and that outside.
    Bandpass6Inward,
}

/// A pipe of a candidate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pipe {
    /// Which.
    pub tube: Tube,
    /// Length, the board it goes through included.
    pub length: Length,
    /// What it tunes its chamber to, were that alone.
    pub tuning: Frequency,
}

impl Kind {
    /// Every kind.
    pub const ALL: [Self; 6] = [
        Self::Closed,
        Self::Vented,
        Self::PassiveRadiator,
        Self::Bandpass,
        Self::Bandpass6Outward,
        Self::Bandpass6Inward,
    ];

    /// Whether it has a chamber before the cones.
    #[must_use]
    pub const fn is_bandpass(self) -> bool {
        matches!(self, Self::Bandpass | Self::Bandpass6Outward | Self::Bandpass6Inward)
    }

    /// How many sizes beside the volume are free.
    pub(super) const fn free(self) -> usize {
        match self {
            Self::Closed => 0,
            Self::Vented | Self::PassiveRadiator => 1,
            Self::Bandpass => 2,
            Self::Bandpass6Outward | Self::Bandpass6Inward => 3,
        }
    }

    /// Whether a chamber behind the cone has a pipe as well as that before it.
    pub(super) const fn has_two_pipes(self) -> bool {
        matches!(self, Self::Bandpass6Outward | Self::Bandpass6Inward)
    }

    /// How many sets of openings there are to choose from.
    pub(super) fn openings(self, brief: &Brief) -> usize {
        match self {
            Self::Closed => 1,
            Self::Vented | Self::Bandpass => brief.tubes.len(),
            Self::Bandpass6Outward | Self::Bandpass6Inward => brief.tubes.len() * brief.tubes.len(),
            Self::PassiveRadiator => brief.radiator.map_or(0, |unit| unit.radiator.count.min(16) as usize),
        }
    }
}

/// A place in the grid: each from 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Spot {
    /// The volume, on a logarithmic axis.
    pub volume: f64,
    /// Length of the pipe or weight of the radiator, on a logarithmic axis; share of the air before the cone; length of
    /// the pipe behind it.
    pub free: [f64; 3],
}

/// A box that fits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Candidate {
    /// Its kind.
    pub kind: Kind,
    /// What the acoustics see.
    pub enclosure: Enclosure,
    /// Net volume of all chambers together.
    pub net: Volume,
    /// Net volume before the cone of a band-pass.
    pub front: Option<Volume>,
    /// What its port or its radiators are tuned to.
    pub tuning: Option<Frequency>,
    /// The pipe of a 6th-order band-pass behind the cone.
    pub behind: Option<Pipe>,
    /// The pipe of its port.
    pub tube: Option<Tube>,
    /// Length of the pipe, the front included.
    pub length: Option<Length>,
    /// Weight to add to each passive radiator.
    pub weight: Option<Mass>,
    /// How it stands in the space.
    pub placed: Placed,
}

fn between(low: f64, high: f64, share: f64) -> f64 {
    low * (high / low).powf(share)
}

/// The net volume of a spot in m³, or `None` where the room holds no box.
pub(super) fn volume_at(brief: &Brief, share: f64) -> Option<f64> {
    let largest = brief.room.largest().cubic_metres();
    (largest > SMALLEST_M3).then(|| between(SMALLEST_M3, largest, share))
}

/// The candidate of a spot, or `None` where it does not fit or is out of range.
pub(super) fn candidate(brief: &Brief, kind: Kind, opening: usize, spot: &Spot) -> Option<Candidate> {
    let volume = volume_at(brief, spot.volume)?;
    let air = Volume::from_cubic_metres(volume);
    let [share, before, behind] = spot.free;
    match kind {
        Kind::Closed => Candidate::closed(brief, air),
        Kind::Vented => {
            let tube = *brief.tubes.get(opening)?;
            let length = length_at(brief, tube, brief.room.front(), brief.room.deepest(), share)?;
            Candidate::vented(brief, air, tube, length)
        }
        Kind::PassiveRadiator => {
            let own = brief.radiator?.radiator.mms.kilograms();
            let weight = Mass::from_kilograms(between(own, own * HEAVIEST, share) - own);
            Candidate::with_radiators(brief, air, opening as u32 + 1, weight)
        }
        Kind::Bandpass => {
            let tube = *brief.tubes.get(opening)?;
            let front = front_of(volume, before);
            let length = length_at(brief, tube, brief.room.front(), brief.room.deepest(), share)?;
            Candidate::bandpass(brief, air - front, front, tube, length)
        }
        Kind::Bandpass6Outward | Kind::Bandpass6Inward => {
            let count = brief.tubes.len().max(1);
            let tubes = [opening / count, opening % count].map(|index| brief.tubes.get(index).copied());
            let [Some(inner), Some(outer)] = tubes else { return None };
            let front = front_of(volume, before);
            let length = length_at(brief, outer, brief.room.front(), brief.room.deepest(), share)?;
            let (board, along) = brief.room.behind(kind == Kind::Bandpass6Inward);
            let behind = (inner, length_at(brief, inner, board, along, behind)?);
            Candidate::bandpass6(brief, kind, [air - front, front], [behind, (outer, length)])
        }
    }
}

/// The air before the cone of a band-pass.
fn front_of(volume: f64, before: f64) -> Volume {
    Volume::from_cubic_metres(volume * (FRONT_SHARE[0] + (FRONT_SHARE[1] - FRONT_SHARE[0]) * before))
}

/// Length of a pipe from the board of its hole alone to the depth of the space, on a logarithmic axis of the air that
/// moves.
fn length_at(brief: &Brief, tube: Tube, least: f64, deepest: f64, share: f64) -> Option<Length> {
    let most = deepest - brief.room.board.metres() - tube.inside.metres();
    if most < least {
        return None;
    }
    let ends = port(brief, tube, Length::from_metres(least)).end_corrections().ok()?.metres();
    let length = between(least + ends, most + ends, share) - ends;
    Some(Length::from_metres(length.max(least).min(most)))
}

fn port(brief: &Brief, tube: Tube, length: Length) -> Port {
    Port {
        opening: Opening::Round { diameter: tube.inside },
        length,
        inner: End::Free,
        outer: End::Flanged,
        count: tube.count,
        qp: brief.port_loss,
    }
}

/// The pipes of a port as a board so thick and the inside see them, and the air they take.
fn rounds(brief: &Brief, tube: Tube, length: Length, board: f64) -> (Rounds, f64) {
    let diameter = tube.inside.metres() + 2.0 * tube.wall.metres();
    let behind = (length.metres() - board).max(0.0);
    // Its own diameter of air before the inner end.
    let reach = length.metres() - board + tube.inside.metres();
    let taken = brief.room.pipe_volume(diameter, behind, tube.count);
    (Rounds { count: tube.count, diameter, reach }, taken)
}

impl Candidate {
    /// A closed box, or `None` if the room does not hold it.
    #[must_use]
    pub fn closed(brief: &Brief, net: Volume) -> Option<Self> {
        let placed = brief.room.place(net.cubic_metres(), &Rounds::default())?;
        let rear = SealedChamber { volume: net, losses: brief.losses };
        Some(Self::plain(Kind::Closed, Enclosure::Closed { rear }, net, placed))
    }

    /// A vented box, or `None` if the room does not hold it with its pipes.
    #[must_use]
    pub fn vented(brief: &Brief, net: Volume, tube: Tube, length: Length) -> Option<Self> {
        let (rounds, taken) = rounds(brief, tube, length, brief.room.front());
        let placed = brief.room.place(net.cubic_metres() + taken, &rounds)?;
        let port = port(brief, tube, length);
        let rear = VentedChamber { volume: net, losses: brief.losses, port };
        Some(Self {
            tuning: Some(port.tuning(net, &brief.air).ok()?),
            tube: Some(tube),
            length: Some(length),
            ..Self::plain(Kind::Vented, Enclosure::Vented { rear }, net, placed)
        })
    }

    /// A box with `count` of the brief's passive radiators, each with `weight` added, or `None` if it does not fit.
    #[must_use]
    pub fn with_radiators(brief: &Brief, net: Volume, count: u32, weight: Mass) -> Option<Self> {
        let unit = brief.radiator?;
        let radiator = PassiveRadiator { mms: unit.radiator.mms + weight, count, ..unit.radiator };
        let rounds = Rounds { count, diameter: unit.frame.metres(), reach: 0.0 };
        let taken = unit.taken_m3 * f64::from(count);
        let placed = brief.room.place_upright(net.cubic_metres() + taken, &rounds)?;
        let rear = SealedChamber { volume: net, losses: brief.losses };
        Some(Self {
            tuning: Some(radiator.tuning(net, &brief.air).ok()?),
            weight: Some(weight),
            ..Self::plain(Kind::PassiveRadiator, Enclosure::PassiveRadiator { rear, radiator }, net, placed)
        })
    }

    /// A band-pass, closed behind the cone, or `None` if the room does not hold it with its pipes.
    #[must_use]
    pub fn bandpass(brief: &Brief, rear: Volume, front: Volume, tube: Tube, length: Length) -> Option<Self> {
        let (rounds, taken) = rounds(brief, tube, length, brief.room.front());
        let air = [rear.cubic_metres(), front.cubic_metres() + taken];
        let placed = brief.room.place_two(air, &rounds, &Behind::Nothing)?;
        let port = port(brief, tube, length);
        let enclosure = Enclosure::Bandpass4 {
            rear: SealedChamber { volume: rear, losses: brief.losses },
            front: VentedChamber { volume: front, losses: brief.losses, port },
        };
        Some(Self {
            front: Some(front),
            tuning: Some(port.tuning(front, &brief.air).ok()?),
            tube: Some(tube),
            length: Some(length),
            ..Self::plain(Kind::Bandpass, enclosure, rear + front, placed)
        })
    }

    /// A band-pass of 6th order, with volumes and pipes behind and before the cone, or `None` if the room does not hold
    /// it, or for another kind.
    #[must_use]
    pub fn bandpass6(
        brief: &Brief,
        kind: Kind,
        [rear, front]: [Volume; 2],
        [behind, before]: [(Tube, Length); 2],
    ) -> Option<Self> {
        let inward = kind == Kind::Bandpass6Inward;
        let (board, _) = brief.room.behind(inward);
        let (outer, taken) = rounds(brief, before.0, before.1, brief.room.front());
        let (inner, taken_behind) = rounds(brief, behind.0, behind.1, board);
        let air = [rear.cubic_metres() + taken_behind, front.cubic_metres() + taken];
        let way = if inward { Behind::Inward(inner) } else { Behind::Outward(inner) };
        let placed = brief.room.place_two(air, &outer, &way)?;
        let chamber = |volume, (tube, length): (Tube, Length)| VentedChamber {
            volume,
            losses: brief.losses,
            port: port(brief, tube, length),
        };
        let (behind_it, before_it) = (chamber(rear, behind), chamber(front, before));
        let enclosure = match kind {
            Kind::Bandpass6Outward => Enclosure::Bandpass6Parallel { rear: behind_it, front: before_it },
            Kind::Bandpass6Inward => Enclosure::Bandpass6Series { rear: behind_it, front: before_it },
            _ => return None,
        };
        let tuning = before_it.port.tuning(front, &brief.air).ok()?;
        let pipe =
            Pipe { tube: behind.0, length: behind.1, tuning: behind_it.port.tuning(rear, &brief.air).ok()? };
        if pipe.tuning.hertz() > HIGHEST_HZ[0] || tuning.hertz() > HIGHEST_HZ[1] {
            return None;
        }
        Some(Self {
            front: Some(front),
            behind: Some(pipe),
            tuning: Some(tuning),
            tube: Some(before.0),
            length: Some(before.1),
            ..Self::plain(kind, enclosure, rear + front, placed)
        })
    }

    /// A candidate without any opening.
    fn plain(kind: Kind, enclosure: Enclosure, net: Volume, placed: Placed) -> Self {
        Self {
            kind,
            enclosure,
            net,
            front: None,
            behind: None,
            tuning: None,
            tube: None,
            length: None,
            weight: None,
            placed,
        }
    }
}
