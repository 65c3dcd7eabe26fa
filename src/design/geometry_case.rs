//! Cases of the woodworking reference, planned by this program: results under the names the reference gives them.
//!
//! The schema is that of `tests/published/data/woodworking/geometry_cases.json`: millimetres, litres, degrees. Only a
//! case's `kind` and `input` count; what it expects is not read.
mod joints;
mod plain;
mod shaped;

use serde_json::{Map, Value, json};
use thiserror::Error;

use crate::model::error::ModelError;
use crate::model::geometry::{
    AsBuilt, Board, BoxSpec, Dims, DriverCutout, Ledger, LedgerItem, Plan, Recess, Window, plan,
};
use crate::units::{ExactLength, Volume};

/// Why a text gives no results.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum GeometryError {
    /// It is no such file.
    #[error("The file holds no cases in the schema of the woodworking reference")]
    NotACase,
}

/// Why one case gives none.
enum Refusal {
    /// An entry is missing or no number.
    Unread,
    /// The box can't be planned.
    Model(ModelError),
}

impl From<ModelError> for Refusal {
    fn from(error: ModelError) -> Self {
        Self::Model(error)
    }
}

type Answer = Result<Value, Refusal>;
type Reader = fn(&Value) -> Answer;

/// The kinds of case that this program plans.
const KINDS: &[(&str, Reader)] = &[
    ("rect_box", plain::rect_box),
    ("edge_ownership_pinwheel", joints::pinwheel),
    ("edge_ownership_cyclic_corner", joints::cyclic),
    ("layered_rings", joints::rings),
    ("driver_in_double_baffle", plain::driver),
    ("cleats_vertical", plain::upright_strips),
    ("cleats_all_twelve_edges", plain::all_strips),
    ("cleat_rip_nesting", plain::ripped_strips),
    ("round_port", plain::round_port),
    ("slot_port_straight", plain::slot_port),
    ("slot_port_folded", plain::folded_slot),
    ("brace_and_terminal", plain::brace_and_terminal),
    ("downfire_legs", plain::legs),
    ("wedge_back_over", shaped::back_over),
    ("wedge_back_between", shaped::back_between),
    ("polygon_profile", shaped::profile),
    ("combined_wedge", shaped::combined),
];

/// Plans the case or the list of `cases` of a file: an object of results, or a list of them.
///
/// # Errors
/// [`GeometryError`] for a text that is no such file. A case that this program does not plan says so in its place, under
/// `refused`.
pub fn results(text: &str) -> Result<Value, GeometryError> {
    let file: Value = serde_json::from_str(text).map_err(|_| GeometryError::NotACase)?;
    let list = file.get("cases").or(Some(&file)).and_then(Value::as_array);
    match list {
        Some(cases) => cases.iter().map(result).collect::<Option<Vec<_>>>().map(Value::Array),
        None => result(&file),
    }
    .ok_or(GeometryError::NotACase)
}

fn result(case: &Value) -> Option<Value> {
    let kind = case.get("kind")?.as_str()?;
    let input = case.get("input")?;
    let mut answer = Map::new();
    if let Some(id) = case.get("id") {
        answer.insert("id".into(), id.clone());
    }
    let found = match KINDS.iter().find(|(name, _)| *name == kind) {
        Some((_, read)) => read(input).map_err(|refusal| match refusal {
            Refusal::Unread => "the input lacks a number of this kind of case".to_owned(),
            Refusal::Model(error) => error.to_string(),
        }),
        None => Err(format!("this program does not plan cases of the kind {kind}")),
    };
    match found {
        Ok(Value::Object(results)) => answer.extend(results),
        Ok(other) => drop(answer.insert("result".into(), other)),
        Err(why) => drop(answer.insert("refused".into(), why.into())),
    }
    Some(Value::Object(answer))
}

fn number(input: &Value, key: &str) -> Result<f64, Refusal> {
    let found = input.get(key).and_then(Value::as_f64);
    found.filter(|value| value.is_finite() && value.abs() < 1e6).ok_or(Refusal::Unread)
}

fn length(input: &Value, key: &str) -> Result<ExactLength, Refusal> {
    number(input, key).map(ExactLength::from_millimetres)
}

fn count(input: &Value, key: &str) -> Result<u8, Refusal> {
    let found = input.get(key).and_then(Value::as_u64);
    found.and_then(|count| u8::try_from(count).ok()).ok_or(Refusal::Unread)
}

fn object<'a>(input: &'a Value, key: &str) -> Result<&'a Value, Refusal> {
    input.get(key).ok_or(Refusal::Unread)
}

/// A plain box with exact sizes.
fn bare(outside: Dims, input: &Value) -> Result<BoxSpec, Refusal> {
    let mut spec = BoxSpec::plain(outside, Board::mdf(length(input, "thickness")?));
    spec.tape_step = ExactLength::ZERO;
    spec.front_layers = input.get("front_layers").and_then(Value::as_u64).map_or(1, |n| n.min(255) as u8);
    Ok(spec)
}

/// A box of the outside size given.
fn outside(input: &Value) -> Result<BoxSpec, Refusal> {
    let size = object(input, "external_mm")?;
    let dims = Dims {
        width: length(size, "width")?,
        height: length(size, "height")?,
        depth: length(size, "depth")?,
    };
    bare(dims, input)
}

fn planned(spec: &BoxSpec) -> Result<Plan, Refusal> {
    Ok(plan(spec, &AsBuilt::new())?)
}

fn mm(length: ExactLength) -> f64 {
    length.millimetres()
}

/// What lines of the ledger take, in litres.
fn taken(ledger: &Ledger, items: &[LedgerItem]) -> f64 {
    // Adding zero turns −0 into 0.
    -items.iter().map(|&item| ledger.volume(item).litres()).sum::<f64>() + 0.0
}

fn window(input: &Value, [across, up, radius]: [&str; 3]) -> Result<Window, Refusal> {
    Ok(Window::new(length(input, across)?, length(input, up)?, length(input, radius)?))
}

const PLAIN_WINDOW: [&str; 3] = ["width", "height", "corner_radius"];

/// A driver made of frusta from the flange: volume π h (d₁² + d₁d₂ + d₂²)/12 each, depth that of the last.
fn cutout(input: &Value, flange: Option<ExactLength>) -> Result<DriverCutout, Refusal> {
    let frusta =
        input.get("driver_frusta_from_flange_mm").and_then(Value::as_array).ok_or(Refusal::Unread)?;
    let (mut mm3, mut depth, mut magnet) = (0.0, ExactLength::ZERO, ExactLength::ZERO);
    for piece in frusta {
        let high = number(piece, "to")? - number(piece, "from_")?;
        let (d1, d2) = (number(piece, "d_from")?, number(piece, "d_to")?);
        mm3 += std::f64::consts::PI * high * (d1 * d1 + d1 * d2 + d2 * d2) / 12.0;
        (depth, magnet) = (length(piece, "to")?, length(piece, "d_to")?);
    }
    let hole = length(input, "cutout_diameter")?;
    Ok(DriverCutout {
        count: 1,
        cutout: hole,
        flange: flange.unwrap_or(hole),
        depth,
        magnet,
        displacement: Volume::from_litres(mm3 * 1e-6),
        pole_vent: None,
        recess: Some(Recess { depth: Some(length(input, "recess_depth")?), clearance: ExactLength::ZERO }),
        centres: Vec::new(),
        elsewhere: Vec::new(),
    })
}

fn part(sizes: &[(&str, ExactLength)]) -> Value {
    let entries = sizes.iter().map(|(name, size)| ((*name).to_owned(), json!(mm(*size))));
    Value::Object(entries.collect())
}
