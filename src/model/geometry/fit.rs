//! The inverse: from a wanted net volume and the space there is to the outside of a box.
use super::axes::{Axis, Dims};
use super::plan::net_at_step;
use super::shell::Shell;
use super::spec::{BoxSpec, LONGEST, Port, Space};
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
    /// The same with the depth and height of a box; what is fixed stays.
    #[must_use]
    #[inline(never)] // not every box needs it: it may come after the first result
    pub fn as_deep_as(&self, outside: Dims) -> Self {
        let height = if self.width.is_some() { self.height } else { self.height.or(Some(outside.height)) };
        Self { depth: self.depth.or(Some(outside.depth)), height, ..self.clone() }
    }

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
/// then taken to the step at which the box as cut comes nearest to the wanted volume without leaving the space.
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
    let solved =
        [Axis::Depth, Axis::Height, Axis::Width].into_iter().find(|&axis| request.fixed(axis).is_none());
    let mut spec = template.clone();
    spec.space = request.space.or(template.space);
    // Everything but the outside, which is still to be found, must be in range before it is rounded.
    spec.outside = Dims::of(|axis| request.fixed(axis).unwrap_or(LONGEST));
    spec.check()?;
    let usable = spec.space.map(Space::usable);
    spec.outside = filled(request, solved, usable, template.tape_step)?;
    let Some(axis) = solved else {
        let net = net_at_step(&spec, spec.tape_step)?;
        return Ok(Fit { solved, net, largest: Some(net), fits: net.litres() >= wanted, spec });
    };
    let limit = usable.map(|usable| usable.get(axis).rounded_down_to(spec.tape_step));
    let longest = limit.unwrap_or(LONGEST).min(LONGEST);
    if longest <= ExactLength::ZERO {
        return Err(ModelError::Impossible { what: "the clearance leaves no space for a box" });
    }
    let zero = ExactLength::ZERO;
    let largest = at(&mut spec, axis, longest, zero)?;
    let fits = largest.litres() >= wanted;
    let mut size = longest;
    if fits {
        let exact = solve(&mut spec, axis, longest, largest.litres(), wanted);
        size = nearest_step(&mut spec, axis, exact, longest, wanted);
    }
    let net = at(&mut spec, axis, size, template.tape_step)?;
    let largest = limit.map(|_| largest);
    Ok(Fit { spec, solved, net, largest, fits })
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
                return Err(ModelError::Missing { what: "the space the box must go into" });
            }
        };
        outside = outside.with(axis, size);
    }
    Ok(outside)
}

/// Net volume with one outside size replaced, cut to `step`.
fn at(spec: &mut BoxSpec, axis: Axis, size: ExactLength, step: ExactLength) -> Result<Volume, ModelError> {
    spec.outside = spec.outside.with(axis, size);
    net_at_step(spec, step)
}

/// The step above or below `exact` at which the box as cut comes nearest to `wanted`; `exact` itself without a step.
///
/// What stands between other panels goes down to a step, so the box as cut may reach the wanted volume only a step or
/// two further up.
fn nearest_step(
    spec: &mut BoxSpec,
    axis: Axis,
    exact: ExactLength,
    longest: ExactLength,
    wanted: f64,
) -> ExactLength {
    let step = spec.tape_step;
    let mut size = exact.rounded_down_to(step);
    let mut nearest = (f64::INFINITY, size);
    for _ in 0..4 {
        // A box that can't be put together counts as too small.
        let net = at(spec, axis, size, step).map_or(f64::NEG_INFINITY, Volume::litres);
        let off = (net - wanted).abs();
        if off < nearest.0 {
            nearest = (off, size);
        }
        if net >= wanted || step <= ExactLength::ZERO || size + step > longest {
            break;
        }
        size = size + step;
    }
    nearest.1
}

/// Smallest size whose net volume reaches `wanted`, to 1/8 µm; `largest` is the volume at `longest` and reaches it.
///
/// Net grows with the size, nearly along a line, and a size at which no box is possible counts as too small: the rule of
/// false position, started with the section of the inside as the slope, and halving where that does not help.
fn solve(spec: &mut BoxSpec, axis: Axis, longest: ExactLength, largest: f64, wanted: f64) -> ExactLength {
    let walls = Shell::walls(spec);
    let [a, b] = axis.others().map(|other| (spec.outside.get(other) - walls.get(other)).millimetres());
    // Litres per count.
    let mut slope = a * b * 1e-6 * ExactLength::from_eighth_micrometres(1).millimetres();
    // No box is shorter than its walls, nor, in depth, than the port in it.
    let mut least = walls.get(axis);
    if axis == Axis::Depth {
        let port = match &spec.port {
            Port::None => ExactLength::ZERO,
            // A tube between two rooms lies across.
            Port::Round(_) if spec.port_is_inner() => ExactLength::ZERO,
            Port::Round(port) => port.length,
            Port::Slot(slot) if slot.bends > 0 => slot.height,
            Port::Slot(slot) => slot.length,
        };
        least = least.max(port + spec.boards.shell.thickness);
    }
    let mut short = (least.eighth_micrometres() - 1).clamp(0, longest.eighth_micrometres() - 1);
    let (mut long, mut last) = (longest.eighth_micrometres(), (longest.eighth_micrometres(), largest));
    let mut short_stands = false;
    for tries in 0.. {
        if long - short <= 1 {
            break;
        }
        let guess = last.0 as f64 + (wanted - last.1) / slope;
        let middle = short + (long - short) / 2;
        let tried = if !guess.is_finite() || tries > 8 && tries % 2 == 0 {
            middle
        } else if guess > short as f64 || tries == 0 {
            (guess.ceil() as i64).clamp(short + 1, long - 1)
        } else if short_stands {
            short + 1
        } else {
            middle
        };
        let size = ExactLength::from_eighth_micrometres(tried);
        match at(spec, axis, size, ExactLength::ZERO) {
            Ok(net) => {
                let net = net.litres();
                if tried != last.0 && net != last.1 {
                    slope = (net - last.1) / (tried - last.0) as f64;
                }
                last = (tried, net);
                if net >= wanted {
                    long = tried;
                } else {
                    (short, short_stands) = (tried, true);
                }
            }
            Err(_) => (short, short_stands) = (tried, false),
        }
    }
    ExactLength::from_eighth_micrometres(long)
}
