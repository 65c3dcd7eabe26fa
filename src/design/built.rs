//! Stable keys for the sizes of pieces, as stored with a design: `left.depth`, `strip 3.face`.
use crate::model::geometry::{AsBuilt, Dimension, InsideEdge, PartId};
use crate::small::VecMap;
use crate::units::Entered;

const DIMENSIONS: [(Dimension, &str); 4] = [
    (Dimension::Width, "width"),
    (Dimension::Height, "height"),
    (Dimension::Depth, "depth"),
    (Dimension::Face, "face"),
];

const PIECES: [(PartId, &str); 12] = [
    (PartId::Back, "back"),
    (PartId::Left, "left"),
    (PartId::Right, "right"),
    (PartId::Top, "top"),
    (PartId::Bottom, "bottom"),
    (PartId::PortRoof, "port roof"),
    (PartId::Divider, "divider"),
    (PartId::Tread, "step board"),
    (PartId::Riser, "step riser"),
    (PartId::PortRiser, "port upright"),
    (PartId::PortCeiling, "upper port board"),
    (PartId::FrontRoof, "roof before the drivers"),
];

/// The key of one size of one piece.
#[must_use]
pub fn key(part: PartId, dimension: Dimension) -> String {
    let size = DIMENSIONS.iter().find(|(d, _)| *d == dimension).map_or("", |(_, name)| name);
    format!("{}.{size}", piece_key(part))
}

/// The key of a piece.
#[must_use]
pub fn piece_key(part: PartId) -> String {
    match part {
        PartId::Front(layer) => format!("front {layer}"),
        PartId::PortWall(number) => format!("port wall {number}"),
        PartId::PortTube(number) => format!("port tube {number}"),
        PartId::FrontTube(number) => format!("front tube {number}"),
        PartId::Brace(kind, number) => format!("brace {kind}-{number}"),
        PartId::Strip(edge) => {
            let place = InsideEdge::all().iter().position(|e| *e == edge).unwrap_or(0);
            format!("strip {place}")
        }
        plain => PIECES.iter().find(|(p, _)| *p == plain).map_or("", |(_, name)| name).to_owned(),
    }
}

#[inline(never)] // few designs hold any: it may come after the first result
fn parse(key: &str) -> Option<(PartId, Dimension)> {
    let (piece, size) = key.rsplit_once('.')?;
    let dimension = DIMENSIONS.iter().find(|(_, name)| *name == size)?.0;
    if let Some((part, _)) = PIECES.iter().find(|(_, name)| *name == piece) {
        return Some((*part, dimension));
    }
    let (name, number) = piece.rsplit_once(' ')?;
    let part = match name {
        "front" => PartId::Front(number.parse().ok()?),
        "port wall" => PartId::PortWall(number.parse().ok()?),
        "port tube" => PartId::PortTube(number.parse().ok()?),
        "front tube" => PartId::FrontTube(number.parse().ok()?),
        "brace" => {
            let (kind, number) = number.split_once('-')?;
            PartId::Brace(kind.parse().ok()?, number.parse().ok()?)
        }
        "strip" => PartId::Strip(*InsideEdge::all().get(number.parse::<usize>().ok()?)?),
        _ => return None,
    };
    Some((part, dimension))
}

/// The sizes as the geometry takes them; keys of pieces there are not are left out.
#[must_use]
pub fn sizes(built: &VecMap<String, Entered>) -> AsBuilt {
    if built.is_empty() { AsBuilt::new() } else { entered(built) }
}

#[inline(never)] // what came out differently comes after the first result
fn entered(built: &VecMap<String, Entered>) -> AsBuilt {
    built.iter().filter_map(|(key, size)| Some((parse(key)?, size.exact_length()))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_come_back() {
        let mut parts: Vec<PartId> = PIECES.iter().map(|(part, _)| *part).collect();
        parts.extend([
            PartId::Front(1),
            PartId::PortWall(1),
            PartId::PortTube(2),
            PartId::Brace(0, 1),
            PartId::FrontTube(1),
        ]);
        parts.extend(InsideEdge::all().into_iter().map(PartId::Strip));
        for part in parts {
            for (dimension, _) in DIMENSIONS {
                assert_eq!(parse(&key(part, dimension)), Some((part, dimension)));
            }
        }
        assert_eq!(parse("roof"), None);
        assert_eq!(parse("strip 99.face"), None);
    }
}
