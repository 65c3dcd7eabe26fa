//! The arrows between the modules, and a few habits of the sources, held by reading them.
use std::path::{Path, PathBuf};

/// Our modules, and which of them each may import. Missing here: `bin`, which sees the library from outside.
const LAYERS: &[(&str, &[&str])] = &[
    ("small", &["small"]),
    ("units", &["units"]),
    ("words", &["words"]),
    ("model", &["model", "units", "small"]),
    ("design", &["design", "model", "units", "words", "small"]),
    ("present", &["present", "design", "model", "units", "words", "small"]),
    ("platform", &["platform"]),
    ("view", &["view", "platform", "present", "design", "model", "units", "words", "small"]),
];

/// Imports against the arrows that stand for now; each must go, and none may be added.
const STANDING: &[(&str, &str)] = &[];

/// Libraries that only some places may use.
const WEB: &[&str] =
    &["web_sys", "js_sys", "wasm_bindgen", "wasm_bindgen_futures", "gloo", "yew", "plotters_canvas"];
const STORED: &[&str] = &["serde", "serde_json"];

/// Most words of a text literal in a view; longer ones belong into the table of words.
const MOST_WORDS: usize = 4;

/// A source taken apart.
struct Source {
    /// Its path below `src`, with `/`.
    path: String,
    /// The text as it is.
    text: String,
    /// The text with comments and literals blanked.
    code: String,
    /// The literals.
    literals: Vec<String>,
}

impl Source {
    fn new(path: &str, text: &str) -> Self {
        let (code, literals) = split(text);
        Self { path: path.to_owned(), text: text.to_owned(), code, literals }
    }
    /// The folder or file right below `src`, without `.rs`.
    fn layer(&self) -> &str {
        let first = self.path.split('/').next().unwrap_or("");
        first.strip_suffix(".rs").unwrap_or(first)
    }
    /// How many modules deep it lies: 1 for `src/design.rs`, 2 for `src/design/file.rs`.
    fn depth(&self) -> usize {
        self.path.split('/').count()
    }
    fn is_in(&self, places: &[&str]) -> bool {
        places
            .iter()
            .any(|place| self.path == format!("{place}.rs") || self.path.starts_with(&format!("{place}/")))
    }
}

/// Code without comments and literals, and the string literals.
fn split(text: &str) -> (String, Vec<String>) {
    let chars: Vec<char> = text.chars().collect();
    let at = |i: usize| chars.get(i).copied().unwrap_or('\0');
    let (mut code, mut literals, mut i) = (String::new(), Vec::new(), 0);
    while i < chars.len() {
        match at(i) {
            '/' if at(i + 1) == '/' => {
                while i < chars.len() && at(i) != '\n' {
                    i += 1;
                }
            }
            '/' if at(i + 1) == '*' => {
                i += 2;
                while i < chars.len() && !(at(i) == '*' && at(i + 1) == '/') {
                    i += 1;
                }
                i += 2;
            }
            'r' if matches!(at(i + 1), '"' | '#')
                && !code.ends_with(|c: char| c.is_alphanumeric() || c == '_') =>
            {
                let hashes = (i + 1..).take_while(|j| at(*j) == '#').count();
                if at(i + 1 + hashes) != '"' {
                    code.push('r');
                    i += 1;
                    continue;
                }
                let start = i + 2 + hashes;
                let mut end = start;
                while end < chars.len() && !(at(end) == '"' && (1..=hashes).all(|k| at(end + k) == '#')) {
                    end += 1;
                }
                literals.push(chars[start..end].iter().collect());
                code.push_str("\"\"");
                i = end + 1 + hashes;
            }
            '"' => {
                let mut literal = String::new();
                i += 1;
                while i < chars.len() && at(i) != '"' {
                    if at(i) == '\\' {
                        i += 1;
                    }
                    literal.push(at(i));
                    i += 1;
                }
                literals.push(literal);
                code.push_str("\"\"");
                i += 1;
            }
            '\'' if at(i + 1) == '\\' => {
                i += 3;
                while i < chars.len() && at(i) != '\'' {
                    i += 1;
                }
                i += 1;
            }
            '\'' if at(i + 2) == '\'' => i += 3,
            other => {
                code.push(other);
                i += 1;
            }
        }
    }
    (code, literals)
}

/// Identifiers and single signs, in order.
fn tokens(code: &str) -> Vec<String> {
    let mut tokens: Vec<String> = Vec::new();
    let mut word = String::new();
    for c in code.chars().chain([' ']) {
        if c.is_alphanumeric() || c == '_' {
            word.push(c);
            continue;
        }
        if !word.is_empty() {
            tokens.push(std::mem::take(&mut word));
        }
        if !c.is_whitespace() {
            tokens.push(c.to_string());
        }
    }
    tokens
}

/// Our modules a source names, from `crate::…` and from `super::…` that reaches the root.
fn imports(source: &Source) -> Vec<String> {
    let tokens = tokens(&source.code);
    let token = |i: usize| tokens.get(i).map_or("", String::as_str);
    let mut found = Vec::new();
    let mut i = 0;
    while i < tokens.len() {
        let mut climbed = 0;
        let mut next = i;
        while token(next) == "super" && token(next + 1) == ":" && token(next + 2) == ":" {
            climbed += 1;
            next += 3;
        }
        if token(i) == "crate" && token(i + 1) == ":" && token(i + 2) == ":" {
            (climbed, next) = (source.depth(), i + 3);
        }
        // A module inside the file is one deeper still; then one climb more reaches the root.
        if climbed >= source.depth() && climbed > 0 {
            found.extend(heads(&tokens, next));
        }
        i = next.max(i + 1);
    }
    found.retain(|name| LAYERS.iter().any(|(layer, _)| layer == name));
    found
}

/// The first names of a path or of each path of a group in braces.
fn heads(tokens: &[String], start: usize) -> Vec<String> {
    if tokens.get(start).map(String::as_str) != Some("{") {
        return tokens.get(start).cloned().into_iter().collect();
    }
    let (mut depth, mut wanted, mut found) = (0, false, Vec::new());
    for token in &tokens[start..] {
        match token.as_str() {
            "{" => {
                depth += 1;
                wanted = depth == 1;
            }
            "}" => {
                depth -= 1;
                if depth == 0 {
                    break;
                }
            }
            "," => wanted = depth == 1,
            name if wanted => {
                found.push(name.to_owned());
                wanted = false;
            }
            _ => {}
        }
    }
    found
}

/// Whether a source uses a library: `name::`, `use name`, `extern crate name`, or an attribute of its name.
fn uses(source: &Source, library: &str) -> bool {
    let tokens = tokens(&source.code);
    let token = |i: usize| tokens.get(i).map_or("", String::as_str);
    (0..tokens.len()).any(|i| {
        let before = i.checked_sub(1).map_or("", token);
        let path = token(i + 1) == ":" && token(i + 2) == ":" && before != ":";
        token(i) == library && (path || matches!(before, "use" | "crate" | "["))
    })
}

fn longest_text(source: &Source) -> Option<&String> {
    let words = |text: &String| {
        text.split_whitespace()
            .filter(|word| word.chars().all(|c| c.is_alphabetic() || ",.;:?!’'".contains(c)))
            .count()
    };
    source.literals.iter().find(|literal| words(literal) > MOST_WORDS)
}

/// Everything wrong with one source.
fn faults(source: &Source) -> Vec<String> {
    let mut faults = Vec::new();
    let mut fault = |text: String| faults.push(format!("src/{}: {text}", source.path));
    if !source.text.starts_with("//!") {
        fault("does not open with //!".into());
    }
    if let Some((_, allowed)) = LAYERS.iter().find(|(layer, _)| *layer == source.layer()) {
        for import in imports(source).iter().filter(|import| !allowed.contains(&import.as_str())) {
            if !STANDING.contains(&(source.path.as_str(), import.as_str())) {
                fault(format!("imports {import}"));
            }
        }
    } else if !["bin", "lib"].contains(&source.layer()) {
        fault("belongs to no layer".into());
    }
    for library in WEB.iter().filter(|library| uses(source, library)) {
        if !source.is_in(&["platform", "view", "bin/app"]) {
            fault(format!("uses {library}"));
        }
    }
    for library in STORED.iter().filter(|library| uses(source, library)) {
        if !source.is_in(&["design", "present/json"]) {
            fault(format!("uses {library}"));
        }
    }
    if source.is_in(&["view"]) {
        if let Some(text) = longest_text(source) {
            fault(format!("holds a sentence: {text}"));
        }
        // The page does without the report as JSON; naming it would pull it in.
        if source.code.contains("present::json") || source.code.contains("json::report") {
            fault("pulls the report as JSON into the page".into());
        }
    }
    faults
}

fn files(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).expect("a folder of the sources") {
        let path = entry.expect("an entry of the folder").path();
        if path.is_dir() {
            files(&path, found);
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            found.push(path);
        }
    }
}

#[test]
fn the_sources_keep_their_layers() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut paths = Vec::new();
    files(&root, &mut paths);
    assert!(paths.len() > 100, "only {} sources found", paths.len());
    let mut all = Vec::new();
    let mut seen = 0;
    let mut standing = Vec::new();
    for path in paths {
        let text = std::fs::read_to_string(&path).expect("a source");
        let below = path.strip_prefix(&root).expect("below src").to_string_lossy().replace('\\', "/");
        let source = Source::new(&below, &text);
        seen += imports(&source).len();
        standing.extend(imports(&source).into_iter().map(|import| (below.clone(), import)));
        all.extend(faults(&source));
    }
    assert!(seen > 100, "only {seen} imports seen: the scanner is blind");
    assert!(all.is_empty(), "{all:#?}");
    for (path, import) in STANDING {
        let still = standing.iter().any(|(found, name)| found == path && name == import);
        assert!(still, "src/{path} no longer imports {import}: take it off the list");
    }
}

/// Most lines of code that describe one kind of enclosure, its own parameters included.
const DESCRIPTION: usize = 60;

/// Every kind of enclosure is one file of some dozens of lines that puts chambers, ducts and drivers into a network; the
/// solver knows no kind.
#[test]
fn each_enclosure_is_one_short_description() {
    let acoustics = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/model/acoustics");
    let read = |path: &Path| std::fs::read_to_string(path).expect("a source");
    let code = |text: &str| {
        let lines = text.lines().map(str::trim).filter(|line| !line.is_empty() && !line.starts_with("//"));
        lines.map(str::to_owned).collect::<Vec<_>>()
    };
    let mut paths = Vec::new();
    files(&acoustics.join("enclosure"), &mut paths);
    let kinds = [
        "bandpass4",
        "bandpass6_parallel",
        "bandpass6_series",
        "closed",
        "infinite_baffle",
        "passive_radiator",
        "push_pull",
        "vented",
    ];
    let mut names: Vec<String> = paths
        .iter()
        .map(|path| path.file_stem().expect("a name").to_string_lossy().into_owned())
        .filter(|name| name != "build")
        .collect();
    names.sort();
    assert_eq!(names, kinds);
    for kind in kinds {
        let text = read(&acoustics.join(format!("enclosure/{kind}.rs")));
        let lines = code(&text);
        assert!(lines.len() <= DESCRIPTION, "{kind}: {} lines", lines.len());
        assert!(text.contains("fn network("), "{kind} describes a network");
        assert!(!text.contains("solve") && !text.contains("Complex"), "{kind} solves nothing itself");
    }
    for general in ["solve.rs", "network.rs", "sweep.rs"] {
        // A comment may name a kind as an example.
        let text = code(&read(&acoustics.join(general))).join("\n");
        for kind in ["Vented", "Bandpass", "PassiveRadiator", "PushPull", "InfiniteBaffle", "Closed"] {
            assert!(!text.contains(kind), "{general} knows {kind}");
        }
    }
}

/// Faults of a made-up source.
fn told(path: &str, text: &str) -> Vec<String> {
    let prefix = format!("src/{path}: ");
    faults(&Source::new(path, text)).iter().map(|fault| fault.replace(&prefix, "")).collect()
}

#[test]
fn the_scanner_finds_what_is_wrong() {
    assert_eq!(told("model/made_up.rs", "use std::fmt;"), ["does not open with //!"]);
    assert_eq!(told("model/made_up.rs", "//! A\nuse crate::design::limits::FieldId;"), ["imports design"]);
    assert_eq!(told("model/made_up.rs", "//! A\nuse super::super::present::format;"), ["imports present"]);
    assert_eq!(
        told("model/made_up.rs", "//! A\nuse crate::{units::{Length, view}, words::{name}};"),
        ["imports words"]
    );
    assert_eq!(told("design/deep/made_up.rs", "//! A\nfn f() { crate::view::start() }"), ["imports view"]);
    assert_eq!(told("units.rs", "//! A\nuse super::model::error::ModelError;"), ["imports model"]);
    assert_eq!(told("platform/made_up.rs", "//! A\nuse crate::words::say;"), ["imports words"]);
    assert_eq!(
        told("present/made_up.rs", "//! A\nuse web_sys::Window;\nuse serde_json::json;"),
        ["uses web_sys", "uses serde_json",]
    );
    assert_eq!(told("model/made_up.rs", "//! A\n#[wasm_bindgen]\nfn f() {}"), ["uses wasm_bindgen"]);
    assert_eq!(told("elsewhere/made_up.rs", "//! A\n"), ["belongs to no layer"]);
    assert_eq!(
        told("view/made_up.rs", "//! A\nconst A: &str = \"Cut the longest panels first.\";"),
        ["holds a sentence: Cut the longest panels first.",]
    );
    assert_eq!(
        told("view/made_up.rs", "//! A\nuse crate::present::json::text;"),
        ["pulls the report as JSON into the page",]
    );
}

#[test]
fn the_scanner_lets_pass_what_is_right() {
    let right = r##"//! A
        // use crate::view::start;
        /* crate::view */
        use super::sibling::view;
        use crate::units::{Length, Quantity as view};
        const TEXT: &str = "use crate::view::start; it's \" text";
        const RAW: &str = r#"crate::view "quoted" serde_json::json"#;
        const QUOTE: char = '"';
        const SLASH: char = '\'';
        fn f<'a>(text: &'a str) -> &'a str { text }
        mod tests { use super::super::sibling::view; }
    "##;
    assert_eq!(told("model/made_up.rs", right), Vec::<String>::new());
    assert_eq!(
        told("design/made_up.rs", "//! A\nuse serde::Serialize;\nuse crate::words::label;"),
        Vec::<String>::new()
    );
    assert_eq!(
        told("view/made_up.rs", "//! A\nuse yew::prelude::*;\nconst PATH: &str = \"M4 15v5 M20 15 a b\";"),
        Vec::<String>::new()
    );
}
