//! The inverse: from a wanted net volume and the space there is to the outside of a box.
use super::axes::{Axis, Dims};
use super::plan::Build;
use super::sizes::Sizes;
use super::spec::{BoxSpec, LONGEST, Space};
use crate::model::error::ModelError;
use crate::units::{ExactLength, Volume};

/// What is wanted.
#[derive(Clone, Debug, PartialEq)]
pub struct FitRequest {
    /// Net volume wanted.
    pub net: Volume,
    /// The space and the clearance to keep; `None` where only the fixed sizes count.
    pub space: Option<Space>,
    /// Outside width, if it is fixed.
    pub width: Option<ExactLength>,
    /// Outside height, if it is fixed.
    pub height: Option<ExactLength>,
    /// Outside depth, if it is fixed.
    pub depth: Option<ExactLength>,
}

impl FitRequest {
    fn fixed(&self, axis: Axis) -> Option<ExactLength> {
        match axis {
            Axis::Width => self.width,
            Axis::Height => self.height,
            Axis::Depth => self.depth,
        }
    }
}

/// What was found.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// The specification with its outside filled in, rounded to the tape step.
    pub spec: BoxSpec,
    /// The size that was solved for; `None` where all three were fixed.
    pub solved: Option<Axis>,
    /// Net volume of the box found, sizes rounded.
    pub net: Volume,
    /// Largest net volume the space and the fixed sizes allow; `None` where nothing limits it.
    pub largest: Option<Volume>,
    /// Whether the wanted volume fits; if not, the box found is the largest.
    pub fits: bool,
}

/// The outside size of a box of the wanted net volume.
///
/// Fixed sizes stay. Of those left open the last one, depth before height before width, is solved for the wanted net
/// volume; the others fill the space less the clearance. The solution is found on the unrounded ledger, to 1/8 µm, and
/// then rounded to the tape step (downwards where upwards would leave the space).
///
/// # Errors
/// [`ModelError::OutOfRange`] for a silly volume; [`ModelError::Missing`] where an open size has no space to fill;
/// [`ModelError::Impossible`] where no box is possible at all, otherwise as [`BoxSpec::check`].
pub fn fit(request: &FitRequest, template: &BoxSpec) -> Result<Fit, ModelError> {
    let wanted = request.net.litres();
    if !wanted.is_finite() || wanted <= 0.0 || wanted > 1e5 {
        return Err(ModelError::OutOfRange {
            what: "wanted net volume in litres",
            value: wanted,
            min: 0.001,
            max: 1e5,
        });
    }
    let solved = [Axis::Depth, Axis::Height, Axis::Width]
        .into_iter()
        .find(|&axis| request.fixed(axis).is_none());
    let mut spec = template.clone();
    spec.space = request.space.or(template.space);
    // Everything but the outside, which is still to be found, must be in range before it is rounded.
    spec.outside = Dims::of(|axis| request.fixed(axis).unwrap_or(LONGEST));
    spec.check()?;
    let usable = spec.space.map(Space::usable);
    spec.outside = filled(request, solved, usable, template.tape_step)?;
    let Some(axis) = solved else {
        let net = Build::new(&spec, Sizes::planned(&spec)?)?.ledger.net;
        return Ok(Fit {
            solved,
            net,
            largest: Some(net),
            fits: net.litres() >= wanted,
            spec,
        });
    };
    let limit = usable.map(|usable| usable.get(axis).rounded_down_to(spec.tape_step));
    let longest = limit.unwrap_or(LONGEST).min(LONGEST);
    if longest <= ExactLength::ZERO {
        return Err(ModelError::Impossible {
            what: "the clearance leaves no space for a box",
        });
    }
    let largest = at(&spec, axis, longest)?;
    let fits = largest.litres() >= wanted;
    let size = if fits {
        solve(&spec, axis, longest, wanted)
    } else {
        longest
    };
    let rounded = size.rounded_to(spec.tape_step);
    let rounded = if rounded > longest {
        size.rounded_down_to(spec.tape_step)
    } else {
        rounded
    };
    spec.outside = spec.outside.with(axis, rounded);
    let net = Build::new(&spec, Sizes::planned(&spec)?)?.ledger.net;
    let largest = limit.map(|_| largest);
    Ok(Fit {
        spec,
        solved,
        net,
        largest,
        fits,
    })
}

/// Fixed sizes as given, the others as large as the space allows; the one to be solved for is left at zero.
fn filled(
    request: &FitRequest,
    solved: Option<Axis>,
    usable: Option<Dims>,
    step: ExactLength,
) -> Result<Dims, ModelError> {
    let mut outside = Dims::default();
    for axis in Axis::ALL {
        let size = match (request.fixed(axis), usable) {
            (Some(size), _) => size,
            (None, _) if Some(axis) == solved => ExactLength::ZERO,
            (None, Some(usable)) => usable.get(axis).rounded_down_to(step),
            (None, None) => {
                return Err(ModelError::Missing {
                    what: "the space the box must go into",
                });
            }
        };
        outside = outside.with(axis, size);
    }
    Ok(outside)
}

/// Exact net volume with one outside size replaced.
fn at(spec: &BoxSpec, axis: Axis, size: ExactLength) -> Result<Volume, ModelError> {
    let mut tried = spec.clone();
    tried.outside = tried.outside.with(axis, size);
    Ok(Build::new(&tried, Sizes::exact(&tried)?)?.ledger.net)
}

/// Smallest size whose net volume reaches `wanted`, halving between nothing and `longest`; net grows with the size, and
/// a size at which no box is possible counts as too small.
fn solve(spec: &BoxSpec, axis: Axis, longest: ExactLength, wanted: f64) -> ExactLength {
    let reaches = |count: i64| {
        let size = ExactLength::from_eighth_micrometres(count);
        at(spec, axis, size).is_ok_and(|net| net.litres() >= wanted)
    };
    let (mut short, mut long) = (0, longest.eighth_micrometres());
    while long - short > 1 {
        let middle = short + (long - short) / 2;
        if reaches(middle) {
            long = middle;
        } else {
            short = middle;
        }
    }
    ExactLength::from_eighth_micrometres(long)
}
