//! The whole feed: battery, main cable, distribution, branches, return; second battery; alternator.
//!
//! Every segment is judged as one [`feed`]: the drop allowed from battery to amplifier is shared out over main cable and
//! longest branch by their lengths, after the body, where it is the return, has taken its part.
use super::amplifier::SupplyDraw;
use super::cable::{Insulation, Material, SizeSystem};
use super::check::within;
use super::feed::{Feed, FeedOption, FeedRequest, ReturnPath, ShortSource, feed};
use super::fuse::FuseFamily;
use crate::model::error::ModelError;
use crate::units::{Current, Length, Resistance, Temperature, Voltage};

/// A stretch of cable with its own surroundings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// Length, one way.
    pub one_way: Length,
    /// Air around its hottest place.
    pub ambient: Temperature,
    /// Rating of its insulation; `None`: as the whole feed's.
    pub insulation: Option<Insulation>,
}

/// An amplifier, or anything else, behind the distribution.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Consumer {
    /// What it draws.
    pub draw: SupplyDraw,
    /// Its cable from the distribution; there is none where it is the only one.
    pub branch: Stretch,
}

/// What is asked of a feed.
#[derive(Clone, Debug, PartialEq)]
pub struct TreeRequest {
    /// Voltage at the battery's posts.
    pub supply: Voltage,
    /// How the current comes back.
    pub return_path: ReturnPath,
    /// Largest drop from battery to amplifier, out and back, in percent of the supply.
    pub allowed_drop_percent: f64,
    /// Metal of every cable.
    pub material: Material,
    /// The list of sizes to choose from.
    pub system: SizeSystem,
    /// Rating of the insulation of every cable that says no other.
    pub insulation: Insulation,
    /// From the battery to the distribution, or to the only amplifier.
    pub main: Stretch,
    /// The amplifiers.
    pub amplifiers: Vec<Consumer>,
    /// What drives a short circuit at the main fuse.
    pub short: ShortSource,
    /// Families of fuse that can be had.
    pub families: Vec<FuseFamily>,
}

/// Which part of the feed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SegmentKind {
    /// From the battery to the distribution, or to the only amplifier.
    Main,
    /// From the distribution to an amplifier, counted from 0.
    Branch(usize),
    /// Between starter battery and second battery.
    Link,
    /// From the alternator to the battery.
    Charge,
}

/// One segment with its cable and fuse.
#[derive(Clone, Debug, PartialEq)]
pub struct Segment {
    /// Which.
    pub kind: SegmentKind,
    /// What flows: worst case and average.
    pub draw: SupplyDraw,
    /// Length, one way.
    pub one_way: Length,
    /// Air around its hottest place.
    pub ambient: Temperature,
    /// At how many of its ends a fuse belongs: two where current can come from either.
    pub fused_ends: u8,
    /// Every size, and the one chosen.
    pub feed: Feed,
}

/// A feed worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct FeedTree {
    /// Main cable first, then the branches in the order of the amplifiers.
    pub segments: Vec<Segment>,
}

impl FeedTree {
    /// The main cable.
    #[must_use]
    pub fn main(&self) -> Option<&Segment> {
        self.segments.first()
    }
    /// The branch of an amplifier; `None` where it hangs on the main cable.
    #[must_use]
    pub fn branch(&self, amplifier: usize) -> Option<&Segment> {
        self.segments.iter().find(|segment| segment.kind == SegmentKind::Branch(amplifier))
    }
    /// Resistance of the main cable, through which everybody's current flows, and of the amplifier's own branch. Where no
    /// size does, the thickest stands for it: what even that can't feed, none can.
    #[must_use]
    pub fn shared_and_own(&self, amplifier: usize) -> Option<(Resistance, Resistance)> {
        let best = |segment: &Segment| {
            let option = segment.feed.choice().or(segment.feed.options.last())?;
            Some(option.loop_resistance)
        };
        let shared = best(self.main()?)?;
        match self.branch(amplifier) {
            Some(branch) => Some((shared, best(branch)?)),
            None => Some((shared, Resistance::from_ohms(0.0))),
        }
    }
    /// Drop from battery to an amplifier at everybody's worst case, in percent of the supply.
    #[must_use]
    pub fn drop_percent(&self, amplifier: usize) -> Option<f64> {
        let main = self.main()?.feed.choice()?.drop_percent;
        match self.branch(amplifier) {
            Some(branch) => Some(main + branch.feed.choice()?.drop_percent),
            None => Some(main),
        }
    }
}

/// Least drop that is offered to a segment, in percent, where the body has taken all there was.
const LEAST_PERCENT: f64 = 1e-4;

/// Judges every size for every segment.
///
/// The main cable carries the sum of all amplifiers; with a single amplifier there is no distribution and no branch.
/// The fuse of a branch sits at the distribution; a short behind it is driven through the main cable.
///
/// # Errors
/// [`ModelError::Missing`] without an amplifier; otherwise as [`feed`].
pub fn tree(request: &TreeRequest) -> Result<FeedTree, ModelError> {
    let draws: Vec<SupplyDraw> = request.amplifiers.iter().map(|one| one.draw).collect();
    let total = sum(&draws).ok_or(ModelError::Missing { what: "an amplifier" })?;
    let single = request.amplifiers.len() == 1;
    let body = match request.return_path {
        ReturnPath::SameCable => Resistance::from_ohms(0.0),
        ReturnPath::Body(body) => body,
    };
    let body_percent = 100.0 * body.ohms() * total.worst_case.amperes() / request.supply.volts();
    let cables = (request.allowed_drop_percent - body_percent).max(0.0);
    let main_m = request.main.one_way.metres();
    let branches_m = request.amplifiers.iter().map(|one| one.branch.one_way.metres());
    let branch_m = branches_m.fold(0.0, f64::max);
    let main_share = if single || main_m + branch_m <= 0.0 { 1.0 } else { main_m / (main_m + branch_m) };
    let main_request = FeedRequest {
        load: total.worst_case,
        supply: request.supply,
        one_way: request.main.one_way,
        return_path: request.return_path,
        allowed_drop_percent: (body_percent.min(request.allowed_drop_percent) + cables * main_share)
            .max(LEAST_PERCENT),
        material: request.material,
        system: request.system,
        insulation: request.main.insulation.unwrap_or(request.insulation),
        ambient: request.main.ambient,
        families: request.families.clone(),
        short: Some(request.short),
    };
    let main = segment(SegmentKind::Main, total, 1, &main_request)?;
    let mut segments = Vec::new();
    if !single {
        let trunk = main.feed.choice().map_or(Resistance::from_ohms(0.0), |option| option.loop_resistance);
        let branches = branches(request, &main_request, trunk, cables * (1.0 - main_share))?;
        segments.extend(branches);
    }
    segments.insert(0, main);
    Ok(FeedTree { segments })
}

fn branches(
    request: &TreeRequest,
    main: &FeedRequest,
    trunk: Resistance,
    percent: f64,
) -> Result<Vec<Segment>, ModelError> {
    let short = ShortSource {
        strongest: request.short.strongest + trunk,
        weakest: request.short.weakest + trunk,
        ..request.short
    };
    let one = |(index, consumer): (usize, &Consumer)| {
        let cable = FeedRequest {
            load: consumer.draw.worst_case,
            one_way: consumer.branch.one_way,
            ambient: consumer.branch.ambient,
            insulation: consumer.branch.insulation.unwrap_or(request.insulation),
            // The body is counted once, with the main cable.
            return_path: match request.return_path {
                ReturnPath::SameCable => ReturnPath::SameCable,
                ReturnPath::Body(_) => ReturnPath::Body(Resistance::from_ohms(0.0)),
            },
            allowed_drop_percent: percent.max(LEAST_PERCENT),
            short: Some(short),
            ..main.clone()
        };
        segment(SegmentKind::Branch(index), consumer.draw, 1, &cable)
    };
    request.amplifiers.iter().enumerate().map(one).collect()
}

/// One segment by itself.
///
/// # Errors
/// As [`feed`].
pub fn segment(
    kind: SegmentKind,
    draw: SupplyDraw,
    fused_ends: u8,
    request: &FeedRequest,
) -> Result<Segment, ModelError> {
    let feed = feed(request)?;
    Ok(Segment { kind, draw, one_way: request.one_way, ambient: request.ambient, fused_ends, feed })
}

/// Everything together: worst cases add, averages add.
fn sum(draws: &[SupplyDraw]) -> Option<SupplyDraw> {
    draws.iter().copied().reduce(|a, b| {
        let (worst, average) = (a.worst_case + b.worst_case, a.average + b.average);
        let share = if worst.amperes() > 0.0 { average.amperes() / worst.amperes() } else { 0.0 };
        SupplyDraw { worst_case: worst, average, music_share: share }
    })
}

/// The current that flows when an isolator joins two batteries, by their voltages and everything between.
///
/// # Errors
/// [`ModelError::OutOfRange`] for a difference outside 0 V to 20 V or a resistance outside 0.1 mΩ to 100 Ω.
pub fn equalising_current(difference: Voltage, between: Resistance) -> Result<Current, ModelError> {
    let volts = within("difference of the batteries in volts", difference.volts(), 0.0, 20.0)?;
    let ohms = within("resistance between the batteries in ohms", between.ohms(), 1e-4, 100.0)?;
    Ok(Current::from_amperes(volts / ohms))
}

/// The sizes beside the one chosen: the next smaller, which fails, and the next larger.
#[must_use]
pub fn neighbours(feed: &Feed) -> (Option<&FeedOption>, Option<&FeedOption>) {
    let smaller = feed.chosen.and_then(|at| at.checked_sub(1)).and_then(|at| feed.options.get(at));
    let larger = feed.chosen.and_then(|at| feed.options.get(at + 1));
    (smaller, larger)
}
