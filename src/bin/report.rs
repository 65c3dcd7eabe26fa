//! Prints the report of a design file, natively.
use std::io::{Read, Write};
use std::process::ExitCode;

use kerf_and_coil::design::document::Design;
use kerf_and_coil::design::evaluate::evaluate;
use kerf_and_coil::design::file::Repair;
use kerf_and_coil::design::{case, demo, file, geometry_case, layout_case, link, stored};
use kerf_and_coil::present::json;

const USAGE: &str = "\
Prints what a Kerf & Coil design comes to, as JSON.

  report FILE          the report of a saved design, a link or a stored record
  report --demo        the report of the demo design
  report --case FILE   the curves of a case (SI, reference schema) as CSV
  report --layout FILE sheet layouts of jobs (mm, reference schema) as JSON
  report --geometry FILE boxes of cases (mm, reference schema) as JSON
  report --schema      the JSON Schema of a design file

Instead of the report of FILE or --demo:
  --csv                its curves as CSV
  --link               its link, from d= on
  --file               the design itself, as a design file
  --shop               templates (SVG, DXF, pages), weight, sheet layout, bill of materials

FILE may be - for the standard input.
Exit code: 0 done, 1 the input can't be read or has no curves, 2 wrong use.
";

/// Largest input read, in bytes.
const MAX_INPUT: u64 = 4_000_000;

/// What is asked for.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Output {
    Report,
    Csv,
    Link,
    File,
    Shop,
}

/// Where it comes from.
#[derive(PartialEq, Eq)]
enum Source {
    Design(String),
    Demo,
    Case(String),
    Layout(String),
    Geometry(String),
    Schema,
}

fn main() -> ExitCode {
    let arguments: Vec<String> =
        std::env::args_os().skip(1).map(|arg| arg.to_string_lossy().into_owned()).collect();
    if arguments.iter().any(|arg| arg == "--help" || arg == "-h") {
        return print(USAGE);
    }
    let (source, output) = match parse(&arguments) {
        Ok(asked) => asked,
        Err(message) => {
            complain(&format!("{message}\n\n{USAGE}"));
            return ExitCode::from(2);
        }
    };
    match answer(&source, output) {
        Ok(text) => print(&text),
        Err(message) => {
            complain(&message);
            ExitCode::from(1)
        }
    }
}

fn parse(arguments: &[String]) -> Result<(Source, Output), String> {
    let mut output = None;
    let mut source = None;
    let mut rest = arguments.iter();
    while let Some(argument) = rest.next() {
        let asked = match argument.as_str() {
            "--csv" => Some(Output::Csv),
            "--link" => Some(Output::Link),
            "--file" => Some(Output::File),
            "--shop" => Some(Output::Shop),
            _ => None,
        };
        if let Some(asked) = asked {
            if output.replace(asked).is_some() {
                return Err("Only one of --csv, --link, --file and --shop at a time.".into());
            }
            continue;
        }
        let found = match argument.as_str() {
            "--demo" => Source::Demo,
            "--schema" => Source::Schema,
            "--layout" => Source::Layout(rest.next().ok_or("--layout needs a file.")?.clone()),
            "--geometry" => Source::Geometry(rest.next().ok_or("--geometry needs a file.")?.clone()),
            "--case" => Source::Case(rest.next().ok_or("--case needs a file.")?.clone()),
            other if other.starts_with('-') && other != "-" => {
                return Err(format!("Unknown option {other}."));
            }
            path => Source::Design(path.to_owned()),
        };
        if source.replace(found).is_some() {
            return Err("Only one input at a time.".into());
        }
    }
    let source = source.ok_or("No input is named.")?;
    if output.is_some()
        && matches!(source, Source::Case(_) | Source::Layout(_) | Source::Geometry(_) | Source::Schema)
    {
        return Err("--csv, --link, --file and --shop go with a design.".into());
    }
    Ok((source, output.unwrap_or(Output::Report)))
}

fn answer(source: &Source, output: Output) -> Result<String, String> {
    match source {
        Source::Schema => Ok(json::text(&file::schema())),
        Source::Case(path) => case::case_csv(&read(path)?).map_err(|error| error.to_string()),
        Source::Layout(path) => layout_case::layouts(&read(path)?)
            .map(|value| json::text(&value))
            .map_err(|error| error.to_string()),
        Source::Geometry(path) => geometry_case::results(&read(path)?)
            .map(|value| json::text(&value))
            .map_err(|error| error.to_string()),
        Source::Demo => show(&demo::design(), &[], output),
        Source::Design(path) => {
            let (design, repairs) = open(&read(path)?)?;
            show(&design, &repairs, output)
        }
    }
}

fn show(design: &Design, repairs: &[Repair], output: Output) -> Result<String, String> {
    match output {
        Output::Link => return Ok(format!("{}\n", link::fragment(design))),
        Output::File => return Ok(format!("{}\n", file::write(design))),
        Output::Report | Output::Csv | Output::Shop => {}
    }
    let report = evaluate(&design.sheet);
    if output == Output::Shop {
        let shop = json::shop(design, &report)
            .ok_or("The design has no box yet; its report says what is missing.")?;
        return Ok(json::text(&shop));
    }
    if output == Output::Report {
        return Ok(json::text(&json::report(design, &report, repairs)));
    }
    let sound = report
        .sound
        .as_ref()
        .map_err(|_| "The design has no curves yet; its report says what is missing.")?;
    Ok(case::response_csv(&sound.response))
}

/// A design from the text of a file, of a link or of a stored record.
fn open(text: &str) -> Result<(Design, Vec<Repair>), String> {
    if !text.trim_start().starts_with('{') && link::carries_design(text) {
        let opened = link::read(text).map_err(|error| format!("The link can't be read: {error}."))?;
        return Ok((opened.design, opened.repairs));
    }
    match (file::read(text), stored::read(text)) {
        (Ok(opened), _) => Ok((opened.design, opened.repairs)),
        (Err(_), Ok(stored)) => {
            let drafts = stored.drafts.into_iter().map(|(id, text)| Repair { field: Some(id), text });
            Ok((stored.design, drafts.collect()))
        }
        // A record of a newer version has no format of its own, so the record's error tells more.
        (Err(file::OpenError::NotADesign), Err(error)) | (Err(error), Err(_)) => {
            Err(format!("The design can't be read: {error}."))
        }
    }
}

fn read(path: &str) -> Result<String, String> {
    let failed = |error: std::io::Error| format!("{path} can't be read: {error}.");
    let mut text = String::new();
    let count = if path == "-" {
        std::io::stdin().lock().take(MAX_INPUT + 1).read_to_string(&mut text)
    } else {
        std::fs::File::open(path).and_then(|file| file.take(MAX_INPUT + 1).read_to_string(&mut text))
    };
    if count.map_err(failed)? as u64 > MAX_INPUT {
        return Err(format!("{path} is too long for a design."));
    }
    Ok(text)
}

/// Writes without the panic of `print!` where the reader has gone away.
fn print(text: &str) -> ExitCode {
    match std::io::stdout().lock().write_all(text.as_bytes()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(_) => ExitCode::from(1),
    }
}

fn complain(message: &str) {
    let _ = writeln!(std::io::stderr().lock(), "{}", message.trim_end());
}
