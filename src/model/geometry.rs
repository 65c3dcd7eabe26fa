//! The box: specification, panels and their cut sizes, solids, volume ledger, checks, fence order, and its inverse.
//!
//! Read in this order: [`spec`] (what is wanted) → [`sizes`] and [`parts`] (what is cut) → [`assembly`] (the cut
//! boards put together as [`solids`]) → [`ledger`] (the air) and [`checks`] (facts about it) → [`fence`] (the order at
//! the saw) → [`mod@fit`] (from a wanted volume back to a size). [`plan()`] does all of it at once.
//!
//! Axes: depth runs from the outside of the front to the back, width from the left side, height from the floor.
//! Formulas and conventions are those of the woodworking reference copied to `tests/published/data/woodworking`.
pub mod assembly;
pub mod axes;
pub mod battens;
mod bent;
pub mod beside;
pub mod checks;
pub mod clearance;
mod convex;
pub mod divide;
pub mod door;
pub mod edges;
pub mod faces;
pub mod fence;
pub mod fit;
pub mod halves;
mod inscribed;
pub mod insert;
pub mod layout;
pub mod ledger;
pub mod legs;
pub mod order;
pub mod outline;
pub mod overlap;
pub mod panels;
pub mod parts;
pub mod plan;
pub mod plane;
pub mod polygon;
pub mod profile;
pub mod rings;
pub mod section;
mod shell;
pub mod sizes;
pub mod solids;
pub mod space;
pub mod spec;
pub mod stiffness;
pub mod strips;
mod vectors;
pub mod weight;

pub use assembly::{Assembly, Body, BodyKind, PortAsCut, Role};
pub use axes::{Axis, Dims, End, InsideEdge, Point};
pub use battens::{Batten, battens};
pub use bent::{
    bends_well,
    shaped::{longest_bent, slot_lacks_room},
};
pub use checks::{Fact, Verdict};
pub use fence::{CutCare, FenceCut, FenceSetting, Saw};
pub use fit::{Fit, FitRequest, fit};
pub use insert::{Adapter, Insert, Plug, adapter, insert, plug};
pub use ledger::{Ledger, LedgerItem, LedgerLine};
pub use legs::{Face, LegNeed, Legs};
pub use order::{BuildOrder, Joint, Side, Step, build_order};
pub use outline::{Corner, Hole, HoleUse, Outline, outlines};
pub use parts::{
    Bevel, BoardEnd, BoardFace, CutSize, Dimension, MeasuredFace, Oblique, Part, PartId, PartName, Stock,
    Tilt,
};
pub use plan::{Build, Plan, StripBlank, plan};
pub use polygon::{Opening, Polygon, Turn};
pub use profile::{Back, BackJoint, Profile};
pub use shell::{StandsOver, standing_over};
pub use sizes::Sizes;
pub use solids::Solid;
pub use spec::{
    AsBuilt, Board, Boards, BoxSpec, ChamberPort, ChamberSlot, ChamberTubes, CornerStrips, Divider,
    DriverCutout, Form, HoleShape, MeasuredStripFace, Pair, Port, Precedence, RadiatorCutout, RadiatorPlace,
    Recess, RoundPort, SlotPort, SlotWidth, Space, StripVoids, TerminalHole, Window, WindowBrace,
};
pub use weight::{PartWeight, Weight, crash_newtons, weight};
