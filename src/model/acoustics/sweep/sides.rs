//! What stands on both sides of the cones, as the quick solution takes it: a chamber that leads to no other one is a
//! single admittance, two that a duct joins are two equations.
use crate::model::acoustics::network::{Chamber, Duct, Network, Place};
use num_complex::Complex64;

/// Ducts or radiators of a chamber that lead outside, taken together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::model::acoustics) struct Opening {
    /// Acoustic mass, kg/m⁴.
    pub mass: f64,
    /// Acoustic resistance, Pa·s/m³.
    pub resistance: f64,
    /// Stiffness 1/C in Pa/m³; zero for a duct.
    pub stiffness: f64,
    /// Area in m².
    pub area: f64,
}

/// A chamber on one side of the cones, with what leads from it outside.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::model::acoustics) struct Side {
    /// Compliance Cab, m³/Pa.
    pub compliance: f64,
    /// Absorption Rab, Pa·s/m³.
    pub absorption: f64,
    /// Leakage 1/Ral, m³/(Pa·s).
    pub leakage: f64,
    /// Its duct, if it has one.
    pub duct: Option<Opening>,
    /// Its passive radiators, if it has any.
    pub radiator: Option<Opening>,
}

/// What one side of the cones faces.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::model::acoustics) enum Facing {
    /// The listener's air.
    Outside,
    /// Air that neither presses back nor is heard.
    Absorbed,
    /// A chamber.
    Chamber(Side),
}

/// Both sides of the cones.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::model::acoustics) struct Sides {
    /// Before the cones.
    pub front: Facing,
    /// Behind them.
    pub back: Facing,
    /// A duct from the chamber behind them into the one before them.
    pub between: Option<Opening>,
}

impl Sides {
    /// The two sides of a network, or `None` where chambers open in more than one group, or lead into each other other
    /// than by one duct from the back to the front.
    pub(in crate::model::acoustics) fn of(network: &Network) -> Option<Self> {
        let outside = |place: &Place| *place == Place::Outside;
        let inner = |duct: &Duct| Place::Chamber(duct.from) == network.back && duct.to == network.front;
        let mut between = None;
        for duct in network.ducts.iter().filter(|duct| !outside(&duct.to)) {
            if !inner(duct) || between.replace(Opening::of(duct)).is_some() {
                return None;
            }
        }
        // The back's duct, if it has one, is the one between.
        let two = network.ducts.iter().filter(|duct| Place::Chamber(duct.from) == network.back).count() > 1;
        if between.is_some() && two || !network.radiators.iter().all(|radiator| outside(&radiator.to)) {
            return None;
        }
        let front = Self::facing(network, network.front)?;
        let back = Self::facing(network, network.back)?;
        let chambers = [front, back].iter().filter(|facing| matches!(facing, Facing::Chamber(_))).count();
        let apart = network.front != network.back || chambers == 0;
        // Openings are numbered from the back to the front.
        let in_order = |from: Vec<usize>| {
            from.len() < 2 || from.first().map(|index| Place::Chamber(*index)) == Some(network.back)
        };
        let ordered = in_order(network.ducts.iter().map(|duct| duct.from).collect())
            && in_order(network.radiators.iter().map(|radiator| radiator.from).collect());
        (apart && ordered && chambers == network.chambers.len()).then_some(Self { front, back, between })
    }

    fn facing(network: &Network, place: Place) -> Option<Facing> {
        let index = match place {
            Place::Outside => return Some(Facing::Outside),
            Place::Absorbed => return Some(Facing::Absorbed),
            Place::Chamber(index) => index,
        };
        let mut side = Side::of(network.chambers.get(index)?);
        let out = |duct: &&Duct| duct.from == index && duct.to == Place::Outside;
        for duct in network.ducts.iter().filter(out) {
            if side.duct.replace(Opening::of(duct)).is_some() {
                return None;
            }
        }
        for radiator in network.radiators.iter().filter(|radiator| radiator.from == index) {
            let opening = Opening {
                mass: radiator.mass_kg_m4,
                resistance: radiator.resistance_pa_s_m3,
                stiffness: 1.0 / radiator.compliance_m3_pa,
                area: radiator.area.square_metres(),
            };
            if side.radiator.replace(opening).is_some() {
                return None;
            }
        }
        Some(Facing::Chamber(side))
    }
}

impl Opening {
    fn of(duct: &Duct) -> Self {
        Self {
            mass: duct.mass_kg_m4,
            resistance: duct.resistance_pa_s_m3,
            stiffness: 0.0,
            area: duct.area.square_metres(),
        }
    }

    /// Admittance and its derivative by ω: Y = 1/(R + j(ωM − S/ω)), dY/dω = −j(M + S/ω²)·Y².
    #[inline]
    fn at(&self, pitch: Pitch) -> (Complex64, Complex64) {
        let spring = self.stiffness * pitch.period;
        let y = inverse(Complex64::new(self.resistance, pitch.omega * self.mass - spring));
        (y, turned(y * y * -(self.mass + spring * pitch.period)))
    }
}

impl Side {
    fn of(chamber: &Chamber) -> Self {
        Self {
            compliance: chamber.compliance_m3_pa,
            absorption: chamber.absorption_pa_s_m3,
            leakage: chamber.leakage_m3_pa_s,
            duct: None,
            radiator: None,
        }
    }

    /// What leads away from the side's pressure at ω.
    #[inline]
    fn ways(&self, pitch: Pitch) -> Ways {
        // Y = jωC/(1 + jωCR), dY/dω = jC/(1 + jωCR)²
        let wc = pitch.omega * self.compliance;
        let lag = inverse(Complex64::new(1.0, wc * self.absorption));
        let mut ways = Ways {
            air: turned(lag * wc),
            air_slope: turned(lag * lag * self.compliance),
            out: Complex64::from(self.leakage),
            out_slope: Complex64::ZERO,
            duct: Complex64::ZERO,
            radiator: Complex64::ZERO,
        };
        let mut open = |opening: &Option<Opening>| {
            let Some(opening) = opening else { return Complex64::ZERO };
            let (y, slope) = opening.at(pitch);
            ways.out += y;
            ways.out_slope += slope;
            y
        };
        (ways.duct, ways.radiator) = (open(&self.duct), open(&self.radiator));
        ways
    }

    /// What the side does at ω: with the cones' flow `q` into it, the pressure is `impedance`·q, and `inner`·q of the
    /// flow stays in its air while the rest leaves through its openings.
    #[inline]
    fn at(&self, pitch: Pitch) -> SideAt {
        let ways = self.ways(pitch);
        let impedance = inverse(ways.air + ways.out);
        let impedance_slope = -(ways.air_slope + ways.out_slope) * impedance * impedance;
        SideAt {
            impedance,
            impedance_slope,
            inner: impedance * ways.air,
            inner_slope: impedance_slope * ways.air + impedance * ways.air_slope,
            duct: ways.duct,
            radiator: ways.radiator,
        }
    }
}

/// Admittances of a side at one frequency, with derivatives by ω.
#[derive(Clone, Copy)]
struct Ways {
    /// Of its air.
    air: Complex64,
    air_slope: Complex64,
    /// Of all that leads outside: leak, duct, radiators.
    out: Complex64,
    out_slope: Complex64,
    duct: Complex64,
    radiator: Complex64,
}

/// A side at one frequency.
#[derive(Clone, Copy)]
struct SideAt {
    impedance: Complex64,
    impedance_slope: Complex64,
    inner: Complex64,
    inner_slope: Complex64,
    duct: Complex64,
    radiator: Complex64,
}

/// A frequency as ω in rad/s, and 1/ω in s.
#[derive(Clone, Copy)]
pub(super) struct Pitch {
    pub(super) omega: f64,
    pub(super) period: f64,
}

/// What the cones' flow of 1 m³/s does to the air around them at one frequency.
pub(super) struct Around {
    /// Pressure against the cones, and its derivative by ω.
    pub(super) impedance: Complex64,
    pub(super) impedance_slope: Complex64,
    /// What of it reaches the listener, and its derivative.
    pub(super) share: Complex64,
    pub(super) share_slope: Complex64,
    /// Flow of the back's duct or the one between, of the front's, and of the back's and the front's radiators.
    pub(super) openings: [Complex64; 4],
}

impl Around {
    #[inline]
    pub(super) fn of(sides: &Sides, pitch: Pitch) -> Self {
        match (&sides.between, &sides.back, &sides.front) {
            (Some(duct), Facing::Chamber(back), Facing::Chamber(front)) => coupled(duct, back, front, pitch),
            _ => apart(sides, pitch),
        }
    }
}

/// Sides that have nothing to do with each other.
#[inline]
fn apart(sides: &Sides, pitch: Pitch) -> Around {
    let nothing = Complex64::ZERO;
    let mut around = Around {
        impedance: nothing,
        impedance_slope: nothing,
        share: nothing,
        share_slope: nothing,
        openings: [nothing; 4],
    };
    let front_out = sides.front == Facing::Outside;
    if front_out {
        around.share += 1.0;
    }
    match &sides.back {
        Facing::Outside => around.share -= 1.0,
        Facing::Absorbed => {}
        Facing::Chamber(side) => {
            let back = side.at(pitch);
            around.impedance += back.impedance;
            around.impedance_slope += back.impedance_slope;
            // 1 − (1 − inner), written so that the small flow far below a port's tuning keeps its digits.
            around.share = if front_out { back.inner } else { back.inner - 1.0 };
            around.share_slope = back.inner_slope;
            around.openings[0] = -back.impedance * back.duct;
            around.openings[2] = -back.impedance * back.radiator;
        }
    }
    if let Facing::Chamber(side) = &sides.front {
        let front = side.at(pitch);
        around.impedance += front.impedance;
        around.impedance_slope += front.impedance_slope;
        around.share += 1.0 - front.inner;
        around.share_slope -= front.inner_slope;
        around.openings[1] = front.impedance * front.duct;
        around.openings[3] = front.impedance * front.radiator;
    }
    around
}

/// Chambers joined by a duct: \[Yb + Yd, −Yd; −Yd, Yf + Yd\]·\[pb; pf\] = \[−1; 1\] for a flow of 1 m³/s, by Cramer's rule.
#[inline]
fn coupled(duct: &Opening, back: &Side, front: &Side, pitch: Pitch) -> Around {
    let (b, f) = (back.ways(pitch), front.ways(pitch));
    let (inner, inner_slope) = duct.at(pitch);
    let (yb, yf) = (b.air + b.out, f.air + f.out);
    let (yb_slope, yf_slope) = (b.air_slope + b.out_slope, f.air_slope + f.out_slope);
    let (sum, sum_slope) = (yb + yf, yb_slope + yf_slope);
    let determinant = yb * yf + inner * sum;
    let determinant_slope = yb_slope * yf + yb * yf_slope + inner_slope * sum + inner * sum_slope;
    let inverse = inverse(determinant);
    let fall = determinant_slope * inverse;
    let impedance = sum * inverse;
    // What flows outside, pb·Ob + pf·Of, less what stands on both sides of it.
    let out = f.out * b.air - b.out * f.air;
    let out_slope = f.out_slope * b.air + f.out * b.air_slope - b.out_slope * f.air - b.out * f.air_slope;
    let share = out * inverse;
    let (behind, before) = (-yf * inverse, yb * inverse);
    Around {
        impedance,
        impedance_slope: sum_slope * inverse - impedance * fall,
        share,
        share_slope: out_slope * inverse - share * fall,
        openings: [-impedance * inner, before * f.duct, behind * b.radiator, before * f.radiator],
    }
}

impl Sides {
    /// Areas of the openings in the order of [`Around::openings`].
    pub(in crate::model::acoustics) fn areas(&self) -> [Option<f64>; 4] {
        let side = |facing: &Facing| match facing {
            Facing::Chamber(side) => (side.duct.map(|o| o.area), side.radiator.map(|o| o.area)),
            _ => (None, None),
        };
        let (back, front) = (side(&self.back), side(&self.front));
        [back.0.or(self.between.map(|o| o.area)), front.0, back.1, front.1]
    }
}

/// j·z.
#[inline]
fn turned(z: Complex64) -> Complex64 {
    Complex64::new(-z.im, z.re)
}

/// 1/z with one division.
#[inline]
pub(super) fn inverse(z: Complex64) -> Complex64 {
    let scale = 1.0 / z.norm_sqr();
    Complex64::new(z.re * scale, -z.im * scale)
}
