//! What lies on the box and before it adds up: wrap, gasket, flange, grille, fixings, and what moves and breathes.
use super::axes::{Axis, Dims};
use super::spec::DriverCutout;
use crate::model::error::ModelError;
use crate::units::{Area, ExactLength, Length, Power, Volume};

/// What stands on the faces of a box, each as measured with calipers; zero where there is none.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct OnFaces {
    /// Wrap, glue included, on every face.
    pub wrap: ExactLength,
    /// Gasket under the flange, pressed.
    pub gasket: ExactLength,
    /// Flange.
    pub flange: ExactLength,
    /// Depth of the flange's recess in the front.
    pub recess: ExactLength,
    /// From the front to the outside of the grille.
    pub grille: ExactLength,
    /// From the front to the inside of the grille, which the cone must not touch.
    pub grille_inside: ExactLength,
    /// Feet, hooks or brackets behind the back.
    pub fixing: ExactLength,
}

impl OnFaces {
    /// What the flange stands out before the front; below zero it lies behind it.
    #[must_use]
    pub fn flange_out(self) -> ExactLength {
        self.gasket + self.flange - self.recess
    }

    /// What stands out most before the front: wrap, flange or grille.
    #[must_use]
    pub fn before_front(self) -> ExactLength {
        self.wrap.max(self.flange_out()).max(self.grille)
    }

    /// Size of a box of this outside with everything on it.
    #[must_use]
    pub fn over_all(self, outside: Dims) -> Dims {
        let depth = outside.depth + self.before_front() + self.wrap + self.fixing;
        Dims { width: outside.width + self.wrap * 2, height: outside.height + self.wrap * 2, depth }
    }

    /// The same with what stands on other faces that drivers look out of, where flanges lie on the board; `over_all` counts
    /// wrap alone there.
    #[must_use]
    #[inline(never)] // few boxes have any: it may come after the first result
    pub fn on_other_faces(self, mut over_all: Dims, driver: &DriverCutout) -> Dims {
        let stands_out = self.wrap.max(self.gasket + self.flange).max(self.grille) - self.wrap;
        let mut add = |axis, more| over_all = over_all.with(axis, over_all.get(axis) + more);
        for (number, face) in driver.elsewhere.iter().enumerate() {
            if !driver.elsewhere.iter().take(number).any(|other| other == face) {
                add(face.0, stands_out);
            }
        }
        if driver.in_front() == 0 {
            add(Axis::Depth, self.wrap - self.before_front());
        }
        over_all
    }

    /// From the surround to the grille when the cone is as far out as it can go; below zero they meet.
    ///
    /// `surround` is what the surround stands out before the flange at rest, `travel` the mechanical travel one way.
    #[must_use]
    pub fn cone_to_grille(self, surround: ExactLength, travel: ExactLength) -> ExactLength {
        self.grille_inside - self.flange_out() - surround - travel
    }
}

/// Room before a cone so that the gap around it is as large as the cone: π d h = π d²/4, a quarter of its diameter
/// (derived).
///
/// # Errors
/// [`ModelError::OutOfRange`] unless the area is above 0 and at most 1 m².
pub fn before_cone(cone: Area) -> Result<Length, ModelError> {
    let area = cone.square_metres();
    if !(area > 0.0 && area <= 1.0) {
        return Err(ModelError::OutOfRange { what: "cone area in m²", value: area, min: 0.0, max: 1.0 });
    }
    Ok(Length::from_metres((area / std::f64::consts::PI).sqrt() / 2.0))
}

/// The size that counts in a room for a box: that before covers are trimmed flush, as far as the room goes. Where only what
/// is trimmed off has no room, nothing is left, but nothing is in the way either.
#[must_use]
pub fn counted(trimmed: Dims, untrimmed: Dims, room: Dims) -> Dims {
    Dims::of(|axis| untrimmed.get(axis).min(room.get(axis)).max(trimmed.get(axis)))
}

/// What remains along each axis in a space: its size less that of the box with everything on it.
#[must_use]
pub fn spare(space: Dims, over_all: Dims) -> [(Axis, ExactLength); 3] {
    Axis::ALL.map(|axis| (axis, space.get(axis) - over_all.get(axis)))
}

/// Volume of an odd hollow from the water that fills it in bags: 1 kg is 1.002 L at 20 °C (density 998.2 kg/m³, CRC
/// Handbook, from memory), taken as 1 L.
///
/// # Errors
/// [`ModelError::OutOfRange`] unless the mass is from 0 to 1000 kg.
pub fn hollow(water_kg: f64) -> Result<Volume, ModelError> {
    if !(0.0..=1000.0).contains(&water_kg) {
        return Err(ModelError::OutOfRange { what: "water in kg", value: water_kg, min: 0.0, max: 1000.0 });
    }
    Ok(Volume::from_litres(water_kg))
}

/// Air that carries off a loss while it warms by so much: loss / (ρ cp ΔT), in m³/s.
///
/// `density` in kg/m³; cp = 1005 J/(kg K) (dry air, from memory).
///
/// # Errors
/// [`ModelError::OutOfRange`] unless the air warms by 1 to 100 K and has a density.
pub fn air_flow(loss: Power, density: f64, warmer_k: f64) -> Result<f64, ModelError> {
    if !((1.0..=100.0).contains(&warmer_k) && density > 0.0) {
        let what = "warming of the air in K";
        return Err(ModelError::OutOfRange { what, value: warmer_k, min: 1.0, max: 100.0 });
    }
    Ok(loss.watts().max(0.0) / (density * 1005.0 * warmer_k))
}
