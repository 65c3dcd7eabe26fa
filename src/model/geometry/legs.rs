//! Legs: sides that reach beyond the front, so that a box can stand over its own driver and be flipped onto any face.
use std::f64::consts::{FRAC_PI_4, PI};

use super::assembly::{Assembly, Body, BodyKind, Role};
use super::axes::{Axis, Dims, Point};
use super::edges::{BOTTOM, FRONT, LEFT, RIGHT, TOP};
use super::outline::Corner;
use super::parts::PartId;
use super::solids::Solid;
use super::spec::{BoxSpec, LONGEST};
use super::weight::Weight;
use crate::model::error::ModelError;
use crate::units::{Area, ExactLength, Length};

/// Both sides extended beyond the front, each with a window in the middle that serves as a handle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Legs {
    /// How far the sides reach beyond the front: the gap under it when the box stands on them.
    pub height: ExactLength,
    /// Width of the window, along the box's height.
    pub window: ExactLength,
    /// Radius of the window's corners: the two under the box, or all four above a rail.
    pub corner_radius: ExactLength,
    /// Wood left between window and floor; zero leaves the window open to the floor and the side on two feet.
    pub rail: ExactLength,
}

impl Legs {
    /// Area of one window, in mm²: ww·leg − (2 − π/2) ρ² where it is open to the floor (geometry.md section 8),
    /// ww·(leg − rail) − (4 − π) ρ² above a rail (section 6).
    #[must_use]
    pub fn window_mm2(self) -> f64 {
        let (wide, radius) = (self.window.millimetres(), self.corner_radius.millimetres());
        let high = (self.height - self.rail).millimetres();
        wide * high - self.corner_factor() * radius * radius
    }

    /// Wood that rounding leaves in one window, per ρ².
    fn corner_factor(self) -> f64 {
        if self.rail > ExactLength::ZERO { 4.0 - PI } else { 2.0 - 2.0 * FRAC_PI_4 }
    }

    /// Length of a foot: half of what the window leaves of the side.
    #[must_use]
    pub fn foot(self, side: ExactLength) -> ExactLength {
        (side - self.window).halved()
    }

    /// All openings when the box stands on its legs: both windows, and the two open ends between the sides.
    #[must_use]
    pub fn openings(self, inside_width: ExactLength) -> Area {
        let ends = 2.0 * inside_width.millimetres() * self.height.millimetres();
        Area::from_square_metres((2.0 * self.window_mm2() + ends) * 1e-6)
    }

    /// Checks every size against the box it belongs to.
    pub(super) fn check(self, spec: &BoxSpec) -> Result<(), ModelError> {
        let sizes = [
            ("leg height in mm", self.height, 0.01),
            ("leg window in mm", self.window, 0.01),
            ("corner radius of the leg window in mm", self.corner_radius, 0.0),
            ("rail under the leg window in mm", self.rail, 0.0),
        ];
        for (what, size, min) in sizes {
            let value = size.millimetres();
            if !(min..=LONGEST.millimetres()).contains(&value) {
                return Err(ModelError::OutOfRange { what, value, min, max: LONGEST.millimetres() });
            }
        }
        let high = self.height - self.rail;
        let closed = self.rail > ExactLength::ZERO;
        let round = if closed { self.corner_radius * 2 } else { self.corner_radius };
        let refuse = |what| Err(ModelError::Impossible { what });
        if high <= ExactLength::ZERO {
            return refuse("the rail under the leg window is as high as the leg");
        }
        if round > high || self.corner_radius * 2 > self.window {
            return refuse("the corners of the leg window are larger than the window");
        }
        if self.window >= spec.outside.height && spec.outside.height > ExactLength::ZERO {
            return refuse("the leg window leaves no feet");
        }
        let owns = |side, other| spec.owners.owns(side, other);
        if !owns(LEFT, FRONT) || !owns(RIGHT, FRONT) {
            return refuse("sides that form legs must run past the front, not stop behind it");
        }
        if [BOTTOM, TOP].into_iter().any(|other| owns(LEFT, other) != owns(RIGHT, other)) {
            return refuse("sides that form legs are alike: each runs past the same boards as the other");
        }
        Ok(())
    }

    /// The window as a body, in the side that stands at `min` and is `size`.
    fn solid(self, min: Point, size: Dims) -> Solid {
        let low = min.height + self.foot(size.height);
        let (at, corner_radius) =
            (Point { height: low, depth: min.depth + self.rail, ..min }, self.corner_radius);
        let opening = Dims { width: size.width, height: self.window, depth: self.height - self.rail };
        if self.rail > ExactLength::ZERO {
            Solid::RoundedBlock { min: at, size: opening, through: Axis::Width, corner_radius }
        } else {
            Solid::Arch { min: at, size: opening, corner_radius }
        }
    }
}

/// What the side of the legs is longer than that of a plain box; zero without legs and for every other piece.
pub(super) fn beyond_front(spec: &BoxSpec, id: PartId, axis: Axis) -> ExactLength {
    match (spec.legs, id, axis) {
        (Some(legs), PartId::Left | PartId::Right, Axis::Depth) => legs.height.rounded_to(spec.tape_step),
        _ => ExactLength::ZERO,
    }
}

/// The windows of the legs, cut from the sides as they stand in the assembly.
#[inline(never)] // few boxes stand on legs: it may come after the first result
pub(super) fn windows(spec: &BoxSpec, assembly: &Assembly) -> Vec<Body> {
    let Some(legs) = spec.legs else { return Vec::new() };
    let mut found = Vec::new();
    for body in &assembly.bodies {
        if let (BodyKind::Board(side @ (PartId::Left | PartId::Right)), Solid::Block { min, size }) =
            (body.kind, body.solid)
        {
            let legs = Legs { height: -min.depth, ..legs };
            let kind = BodyKind::LegWindow(u8::from(side == PartId::Right));
            found.push(Body { kind, role: Role::Cut, solid: legs.solid(min, size), turn: None });
        }
    }
    found
}

/// The edge of a side with feet, anticlockwise from its corner at the floor, or nothing where it is a plain rectangle.
/// Across is away from the floor, up along the side.
#[must_use]
pub fn side_edge(size: [ExactLength; 2], window: &Solid, min: Point) -> Vec<Corner> {
    let Solid::Arch { min: at, size: opening, corner_radius } = *window else { return Vec::new() };
    let [w, h] = size.map(ExactLength::millimetres);
    let low = (at.height - min.height).millimetres();
    let high = low + opening.height.millimetres();
    let (deep, r) = (opening.depth.millimetres(), corner_radius.millimetres());
    let mut edge =
        vec![([0.0, 0.0], 0.0), ([w, 0.0], 0.0), ([w, h], 0.0), ([0.0, h], 0.0), ([0.0, high], 0.0)];
    if r > 0.0 {
        // A quarter circle taken clockwise: −tan(90°/4).
        let bulge = -(PI / 8.0).tan();
        edge.push(([deep - r, high], bulge));
        edge.push(([deep, high - r], 0.0));
        edge.push(([deep, low + r], bulge));
        edge.push(([deep - r, low], 0.0));
    } else {
        edge.push(([deep, high], 0.0));
        edge.push(([deep, low], 0.0));
    }
    edge.push(([0.0, low], 0.0));
    edge
}

/// What sets the height of the legs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LegNeed {
    /// A quarter of the cone's effective diameter: the curtain between flange and floor is then as large as the cone
    /// (π d h = π d²/4, derived).
    pub curtain: Length,
    /// What the moving cone and its surround need: 25 mm and one and a half times the travel (common practice, no source).
    pub travel: Length,
    /// What makes all openings together as large as the cones (common practice, no source).
    pub openings: Length,
    /// What the window's own corners, or a hand's 40 mm above a rail, need (hand: common practice, no source).
    pub window: Length,
}

/// Room in front of a resting cone, in mm (common practice, no source).
const CONE_ROOM: f64 = 25.0;
/// Travel beyond the rated one that a cone may make (common practice, no source).
const OVER_TRAVEL: f64 = 1.5;
/// Height of a window that a hand goes through, in mm (common practice, no source).
const HAND: f64 = 40.0;

impl LegNeed {
    /// From the area of one cone, the number of cones that look at the floor, their travel, and the legs but for their
    /// height. Without such cones only the window asks for a height.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] unless the area is above 0 and at most 1 m².
    pub fn of(
        cone: Area,
        count: u8,
        travel: Option<Length>,
        legs: Legs,
        inside_width: ExactLength,
    ) -> Result<Self, ModelError> {
        let area = cone.square_metres();
        if !(area > 0.0 && area <= 1.0) {
            let what = "cone area in m²";
            return Err(ModelError::OutOfRange { what, value: area, min: 0.0, max: 1.0 });
        }
        let (wide, radius) = (legs.window.millimetres(), legs.corner_radius.millimetres());
        let rail = legs.rail.millimetres();
        let across = 2.0 * (wide + inside_width.millimetres().max(0.0));
        let rounded = 2.0 * legs.corner_factor() * radius * radius + 2.0 * wide * rail;
        let least = if rail > 0.0 { rail + (2.0 * radius).max(HAND) } else { radius.max(HAND) };
        if count == 0 {
            let none = Length::default();
            return Ok(Self {
                curtain: none,
                travel: none,
                openings: none,
                window: Length::from_millimetres(least),
            });
        }
        let wanted = area * 1e6 * f64::from(count) + rounded;
        let moves = travel.map_or(0.0, Length::millimetres).max(0.0) * OVER_TRAVEL;
        Ok(Self {
            curtain: Length::from_millimetres((area * 1e6 / PI).sqrt() / 2.0),
            travel: Length::from_millimetres(CONE_ROOM + moves),
            openings: Length::from_millimetres(wanted / across.max(1.0)),
            window: Length::from_millimetres(least),
        })
    }

    /// The largest of them, up to a whole 5 mm.
    #[must_use]
    pub fn height(self) -> ExactLength {
        let most = [self.curtain, self.travel, self.openings, self.window].map(Length::millimetres);
        let most = most.into_iter().fold(0.0, f64::max);
        ExactLength::from_millimetres((most / 5.0 - 1e-9).ceil() * 5.0)
    }
}

/// A face a box stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Face {
    /// On the legs, driver to the floor; without legs on the front.
    Front,
    /// On the back, driver up.
    Back,
    /// On the left side.
    Left,
    /// On the right side.
    Right,
    /// On the underside.
    Bottom,
    /// On the top.
    Top,
}

/// Tilt at which a standing box may fall at the earliest: 10°, as the safety standard for electronic equipment tests it
/// (IEC 62368-1, from memory).
pub const LEAST_TIP_DEGREES: f64 = 10.0;

/// The tilt at which the box falls over, for each face it can stand on, in degrees.
///
/// Atan of the centre of gravity's distance from the nearest edge it turns over, over its height.
#[must_use]
pub fn tips(outside: Dims, legs: ExactLength, weight: &Weight) -> [(Face, f64); 6] {
    let [deep, wide, high] = outside.millimetres();
    let legs = legs.millimetres();
    let [d, w, h] = weight.centre_mm;
    let (along_depth, along_width, along_height) =
        ((d + legs).min(deep - d), w.min(wide - w), h.min(high - h));
    let tip = |edges: [f64; 2], up: f64| {
        let near = edges[0].min(edges[1]);
        near.atan2(up.max(1e-9)).to_degrees()
    };
    [
        (Face::Front, tip([along_width, along_height], d + legs)),
        (Face::Back, tip([along_width, along_height], deep - d)),
        (Face::Left, tip([along_depth, along_height], w)),
        (Face::Right, tip([along_depth, along_height], wide - w)),
        (Face::Bottom, tip([along_depth, along_width], h)),
        (Face::Top, tip([along_depth, along_width], high - h)),
    ]
}
