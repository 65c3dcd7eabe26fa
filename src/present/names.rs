//! What parts, ledger lines and sizes are called.
use crate::model::electrical::cable::Material;
use crate::model::electrical::tree::SegmentKind;
use crate::model::geometry::{Axis, Dimension, LedgerItem, PartId, PartName};
use crate::words::{feed, name};

/// The name of a line of the cut list.
#[must_use]
pub const fn part(name: PartName) -> &'static str {
    match name {
        PartName::Front => name::FRONT,
        PartName::Back => name::BACK,
        PartName::TopBottom => name::TOP_BOTTOM,
        PartName::Side => name::SIDE,
        PartName::PortRoof => name::PORT_ROOF,
        PartName::PortWall => name::PORT_WALL,
        PartName::Brace => name::BRACE,
        PartName::CornerStrip => name::CORNER_STRIP,
        PartName::PortTube => name::PORT_TUBE,
        PartName::Divider => name::DIVIDER,
        PartName::FrontTube => name::FRONT_TUBE,
        PartName::Top => name::TOP,
        PartName::Bottom => name::BOTTOM,
        PartName::Tread => name::TREAD,
        PartName::Riser => name::RISER,
        PartName::PortRiser => name::PORT_RISER,
        PartName::PortCeiling => name::PORT_CEILING,
        PartName::FrontRoof => name::FRONT_ROOF,
        PartName::Batten => crate::words::faces::ONE_BATTEN,
    }
}

/// The name of one piece among equal ones, where it has one.
#[must_use]
pub const fn piece(piece: PartId) -> Option<&'static str> {
    match piece {
        PartId::Left => Some(name::LEFT),
        PartId::Right => Some(name::RIGHT),
        PartId::Top => Some(name::TOP),
        PartId::Bottom => Some(name::BOTTOM),
        PartId::Front(0) => Some(name::OUTER_LAYER),
        PartId::Front(_) => Some(name::INNER_LAYER),
        PartId::Back => Some(name::BACK),
        _ => None,
    }
}

/// One piece by name: of several that are alike with its number, counted from 1.
#[must_use]
#[inline(never)] // only details name single pieces: it may come after the first result
pub fn one(id: PartId, all: &[PartId]) -> String {
    let kind = part(id.name());
    match id {
        PartId::Strip(_) => kind.into(),
        PartId::PortTube(_) | PartId::FrontTube(_) | PartId::PortWall(_) | PartId::Brace(..) => {
            let mut alike: Vec<PartId> =
                all.iter().copied().filter(|other| other.name() == id.name()).collect();
            crate::small::sort_by(&mut alike, PartId::cmp);
            alike.dedup();
            match alike.iter().position(|other| *other == id) {
                Some(place) if alike.len() > 1 => name::numbered(kind, place + 1),
                _ => kind.into(),
            }
        }
        PartId::Front(_) if !all.iter().any(|other| *other != id && other.name() == id.name()) => kind.into(),
        _ => crate::words::cutting::piece(&crate::design::built::piece_key(id)),
    }
}

/// The name of a ledger line.
#[must_use]
pub const fn ledger(item: LedgerItem) -> &'static str {
    match item {
        LedgerItem::GrossInside => name::GROSS,
        LedgerItem::Drivers => name::DRIVERS,
        LedgerItem::DriverHoles => name::DRIVER_HOLES,
        LedgerItem::Radiators => name::RADIATORS,
        LedgerItem::RadiatorHoles => name::RADIATOR_HOLES,
        LedgerItem::CornerStrips => name::CORNER_STRIPS,
        LedgerItem::StripCorners => name::STRIP_CORNERS,
        LedgerItem::StripVoids => name::STRIP_VOIDS,
        LedgerItem::PortAir => name::PORT_AIR,
        LedgerItem::PortWalls => name::PORT_WALLS,
        LedgerItem::Braces => name::BRACES,
        LedgerItem::BracedStrips => name::BRACED_STRIPS,
        LedgerItem::Battens => crate::words::faces::BATTENS,
        LedgerItem::TerminalHole => name::TERMINAL_HOLE,
        LedgerItem::TerminalCup => name::TERMINAL_CUP,
    }
}

/// The name of a size.
#[must_use]
pub const fn dimension(dimension: Dimension) -> &'static str {
    match dimension {
        Dimension::Width => name::WIDTH,
        Dimension::Height => name::HEIGHT,
        Dimension::Depth => name::DEPTH,
        Dimension::Face => name::FACE,
    }
}

/// The name of a direction.
#[must_use]
pub const fn axis(axis: Axis) -> &'static str {
    match axis {
        Axis::Width => name::WIDTH,
        Axis::Height => name::HEIGHT,
        Axis::Depth => name::DEPTH,
    }
}

/// The name of a segment of the feed.
#[must_use]
pub fn segment(kind: SegmentKind) -> String {
    match kind {
        SegmentKind::Main => feed::MAIN.into(),
        SegmentKind::Branch(index) => feed::branch(index + 1),
        SegmentKind::Link => feed::LINK.into(),
        SegmentKind::Charge => feed::CHARGE.into(),
    }
}

/// The name of a metal.
#[must_use]
pub const fn metal(material: Material) -> &'static str {
    match material {
        Material::Copper => feed::COPPER,
        Material::CopperCladAluminium => feed::CLAD,
        Material::Aluminium => feed::ALUMINIUM,
    }
}
