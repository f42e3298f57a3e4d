//! The walls between the rooms, read from the `use` lines and the paths in the code: no arrow that the table of
//! DEVELOPERS.md does not allow, no circle between rooms or files, no clock, file or thread in a pure room.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use super::rehearsal::root;

/// What reaches out of the program, by the beginning of its path.
const OUTSIDE: [&str; 14] = [
    "std::fs",
    "std::env",
    "std::net",
    "std::thread",
    "std::time",
    "std::process",
    "std::io",
    "std::os",
    "rustix",
    "crossbeam_channel",
    "crossterm",
    "signal_hook",
    "chrono::Local",
    "chrono::Utc::now",
];

/// A module by its path from the root of the library.
type Module = Vec<String>;

/// What leans on what.
type Arrows<N> = BTreeMap<N, BTreeSet<N>>;

/// The code of the library by modules, without comments and without what only tests use.
struct Library {
    code: BTreeMap<Module, String>,
}

/// One path in the code.
struct Named {
    path: String,
    /// It only gives a name on: `pub use`.
    given_on: bool,
}

impl Library {
    fn read() -> Self {
        let mut files = Vec::new();
        walk(&root().join("src"), &mut Vec::new(), &mut files);
        Self::of(files)
    }

    fn of(files: Vec<(Module, String)>) -> Self {
        let mut code: BTreeMap<Module, String> = BTreeMap::new();
        let mut for_tests: Vec<Module> = Vec::new();
        for (module, text) in files {
            let (text, tests) = without_tests(&without_comments(&text));
            for_tests.extend(tests.into_iter().map(|name| child(&module, &name)));
            code.insert(module, text);
        }
        code.retain(|module, _| !for_tests.iter().any(|t| module.starts_with(t)));
        Self { code }
    }

    /// A path from the root of the library; nothing for what is not of the library.
    fn absolute(&self, module: &Module, path: &str) -> Option<Module> {
        let mut parts: Vec<String> = path.split("::").map(str::to_owned).collect();
        let mut at = module.clone();
        match parts[0].as_str() {
            "crate" => {
                at.clear();
                parts.remove(0);
            }
            "super" | "self" => {}
            first if self.code.contains_key(&child(module, first)) => {}
            _ => return None,
        }
        while parts.first().is_some_and(|p| p == "super" || p == "self") {
            if parts.remove(0) == "super" {
                at.pop();
            }
        }
        at.extend(parts);
        Some(at)
    }

    /// The names that modules give on, and where they stand.
    fn given_on(&self) -> BTreeMap<Module, Module> {
        let mut out = BTreeMap::new();
        for (module, code) in &self.code {
            for named in paths(code).into_iter().filter(|n| n.given_on) {
                let (path, name) = named.path.split_once(" as ").unwrap_or_else(|| {
                    let name = named.path.rsplit("::").next().unwrap_or_default();
                    (named.path.as_str(), name)
                });
                if let Some(to) = self.absolute(module, path) {
                    out.insert(child(module, name), to);
                }
            }
        }
        out
    }

    /// Which files lean on which; a name that a module only gives on is followed to where it stands.
    fn between_files(&self) -> Arrows<Module> {
        let given_on = self.given_on();
        let find = |mut path: Module| {
            for _ in 0..8 {
                let n = (1..=path.len())
                    .rev()
                    .find(|n| self.code.contains_key(&path[..*n]))?;
                match path.get(..=n).and_then(|name| given_on.get(name)) {
                    Some(to) => path = [to.as_slice(), &path[n + 1..]].concat(),
                    None => return Some(path[..n].to_vec()),
                }
            }
            None
        };
        let modules = self.code.keys().cloned().collect::<BTreeSet<_>>();
        let has_children = |module: &Module| {
            let below = |m: &Module| m.len() > module.len() && m.starts_with(module);
            modules.iter().any(below)
        };
        let mut out = Arrows::new();
        for (module, code) in &self.code {
            let leans = paths(code)
                .into_iter()
                .filter(|n| !(n.given_on && has_children(module)))
                .filter_map(|n| find(self.absolute(module, without_alias(&n.path))?))
                .filter(|to| to != module)
                .collect();
            out.insert(module.clone(), leans);
        }
        out
    }

    /// Which rooms lean on which, each with one file that does.
    fn between_rooms(&self) -> BTreeMap<(String, String), Module> {
        let mut out = BTreeMap::new();
        for (module, code) in &self.code {
            for named in paths(code) {
                let to = self.absolute(module, without_alias(&named.path));
                if let Some(room) = to.as_ref().and_then(|to| to.first())
                    && *room != module[0]
                {
                    out.insert((module[0].clone(), room.clone()), module.clone());
                }
            }
        }
        out
    }

    fn rooms(&self) -> BTreeSet<String> {
        self.code.keys().map(|module| module[0].clone()).collect()
    }
}

fn walk(folder: &Path, module: &mut Module, into: &mut Vec<(Module, String)>) {
    for entry in std::fs::read_dir(folder).expect("a folder of the sources") {
        let path = entry.expect("an entry").path();
        let name = path.file_stem().unwrap_or_default().to_string_lossy();
        // The crate's root joins everything and is no room.
        if module.is_empty() && (name == "lib" || name == "main") {
            continue;
        }
        module.push(name.into_owned());
        if path.is_dir() {
            walk(&path, module, into);
        } else if path.extension().is_some_and(|e| e == "rs") {
            let text = std::fs::read_to_string(&path).expect("a source");
            let own = module.len() - usize::from(module.last().is_some_and(|m| m == "mod"));
            into.push((module[..own].to_vec(), text));
        }
        module.pop();
    }
}

fn child(module: &[String], name: &str) -> Module {
    [module, &[name.to_owned()]].concat()
}

fn without_alias(path: &str) -> &str {
    path.split(" as ").next().unwrap_or_default()
}

fn without_comments(text: &str) -> String {
    let code = |line: &str| line.split("//").next().unwrap_or_default().to_owned();
    text.lines().map(code).collect::<Vec<_>>().join("\n")
}

/// The code without modules of tests, and the names of those that have files of their own.
fn without_tests(code: &str) -> (String, Vec<String>) {
    let (mut rest, mut kept, mut names) = (code, String::new(), Vec::new());
    while let Some((before, after)) = rest.split_once("#[cfg(test)]") {
        kept.push_str(before);
        let Some(module) = after.trim_start().strip_prefix("mod ") else {
            rest = after;
            continue;
        };
        let end = module.find([';', '{']).unwrap_or(module.len());
        if module[end..].starts_with(';') {
            names.push(module[..end].trim().to_owned());
            rest = &module[end + 1..];
        } else {
            // As rustfmt writes it, the end of a module at the margin is the first brace there.
            rest = module.split_once("\n}").map_or("", |(_, rest)| rest);
        }
    }
    kept.push_str(rest);
    (kept, names)
}

/// Every path in the code: those of `use` lines with their braces taken apart, and those that stand where they are used.
fn paths(code: &str) -> Vec<Named> {
    let mut out = Vec::new();
    let mut body = String::new();
    let mut lines = code.lines();
    while let Some(line) = lines.next() {
        let line = line.trim();
        let tree = line.strip_prefix("use ").map(|tree| (false, tree));
        let shown = || line.strip_prefix("pub")?.split_once("use ");
        let tree = tree.or_else(|| {
            let (who, tree) = shown()?;
            (who.trim().is_empty() || who.starts_with('(')).then_some((true, tree))
        });
        let Some((given_on, tree)) = tree else {
            body.push_str(line);
            body.push('\n');
            continue;
        };
        let mut tree = tree.to_owned();
        while !tree.contains(';')
            && let Some(line) = lines.next()
        {
            tree.push_str(line.trim());
        }
        let tree = tree.split(';').next().unwrap_or_default();
        let all = leaves(tree).into_iter();
        out.extend(all.map(|path| Named { path, given_on }));
    }
    let word = |c: char| c.is_alphanumeric() || c == '_' || c == ':';
    for path in body.split(|c| !word(c)) {
        let path = path.trim_matches(':');
        if path.contains("::") {
            let (path, given_on) = (path.to_owned(), false);
            out.push(Named { path, given_on });
        }
    }
    out
}

/// The paths of a tree: `a::{b, c::{self, D}}` is `a::b`, `a::c::self`, `a::c::D`.
fn leaves(tree: &str) -> Vec<String> {
    let tree = tree.trim();
    let Some((head, rest)) = tree.split_once('{') else {
        return vec![tree.trim_end_matches("::self").to_owned()];
    };
    let rest = rest.strip_suffix('}').unwrap_or(rest);
    let (mut depth, mut from, mut out) = (0, 0, Vec::new());
    for (at, c) in rest.char_indices().chain([(rest.len(), ',')]) {
        match c {
            '{' => depth += 1,
            '}' => depth -= 1,
            ',' if depth == 0 => {
                let part = rest[from..at].trim();
                if !part.is_empty() {
                    out.extend(leaves(&format!("{head}{part}")));
                }
                from = at + 1;
            }
            _ => {}
        }
    }
    out
}

/// A room of the table: what it may lean on, and whether it is pure.
struct Room {
    leans: BTreeSet<String>,
    pure: bool,
}

fn table() -> BTreeMap<String, Room> {
    let page = include_str!("../../DEVELOPERS.md");
    let names = |cell: &str| -> Vec<String> {
        let ticked = cell.split('`').skip(1).step_by(2);
        ticked.map(str::to_owned).collect()
    };
    let rows = page.lines().filter(|line| line.starts_with("| `"));
    let rows = rows.map(|line| line.split('|').map(str::trim).collect::<Vec<_>>());
    let rooms = rows.filter(|cells| cells.len() == 6).map(|cells| {
        let leans = names(cells[3]).into_iter().collect();
        let pure = cells[4] == "yes";
        (names(cells[1]).remove(0), Room { leans, pure })
    });
    rooms.collect()
}

/// Groups that lean on one another in a circle, each with its arrows.
fn circles<N: Ord + Clone>(arrows: &Arrows<N>) -> Vec<Vec<(N, N)>> {
    let reach = |from: &N| {
        let (mut seen, mut open) = (BTreeSet::new(), vec![from]);
        while let Some(node) = open.pop() {
            for to in arrows.get(node).into_iter().flatten() {
                if seen.insert(to) {
                    open.push(to);
                }
            }
        }
        seen
    };
    let reached: BTreeMap<&N, BTreeSet<&N>> = arrows.keys().map(|n| (n, reach(n))).collect();
    let joined = |a: &N, b: &N| {
        let there = |x: &N, y: &N| reached.get(x).is_some_and(|r| r.contains(y));
        there(a, b) && there(b, a)
    };
    let mut groups: Vec<Vec<(N, N)>> = Vec::new();
    for (from, to) in arrows
        .iter()
        .flat_map(|(n, on)| on.iter().map(move |t| (n, t)))
    {
        if joined(from, to) {
            let arrow = (from.clone(), to.clone());
            match groups.iter_mut().find(|g| joined(&g[0].0, from)) {
                Some(group) => group.push(arrow),
                None => groups.push(vec![arrow]),
            }
        }
    }
    groups
}

/// Arrows between rooms that the table does not allow, and rooms that it does not have or has too many.
fn forbidden(library: &Library, table: &BTreeMap<String, Room>) -> Vec<String> {
    let rooms = library.rooms();
    let unlisted = rooms.iter().filter(|room| !table.contains_key(*room));
    let unbuilt = table.keys().filter(|room| !rooms.contains(*room));
    let allowed = |from: &str, to: &str| table.get(from).is_some_and(|r| r.leans.contains(to));
    let arrows = library.between_rooms();
    let arrows = arrows.iter().filter(|((from, to), _)| !allowed(from, to));
    unlisted
        .map(|room| format!("`{room}` is not in the table"))
        .chain(unbuilt.map(|room| format!("there is no room `{room}`")))
        .chain(arrows.map(|((_, to), file)| format!("{} leans on `{to}`", file.join("/"))))
        .collect()
}

/// What reaches out of the program in pure rooms.
fn impure(library: &Library, table: &BTreeMap<String, Room>) -> Vec<String> {
    let pure = |module: &Module| table.get(&module[0]).is_some_and(|room| room.pure);
    let mut out = Vec::new();
    for (module, code) in library.code.iter().filter(|(module, _)| pure(module)) {
        for named in paths(code) {
            let below = |o: &str| named.path == o || named.path.starts_with(&format!("{o}::"));
            if OUTSIDE.into_iter().any(below) {
                out.push(format!("{}: `{}`", module.join("/"), named.path));
            }
        }
    }
    out
}

/// The public types that a line of code declares.
fn declared(line: &str) -> Option<&str> {
    let rest = line.strip_prefix("pub ")?;
    let kinds = ["struct ", "enum ", "trait ", "type "];
    let name = kinds.iter().find_map(|kind| rest.strip_prefix(kind))?;
    name.split(|c: char| !c.is_alphanumeric()).next()
}

/// One name means one thing: no two public types are called alike.
#[test]
fn a_public_type_has_its_name_for_itself() {
    let library = Library::read();
    let mut named: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for (module, text) in &library.code {
        for name in text.lines().filter_map(declared) {
            named.entry(name).or_default().push(module.join("::"));
        }
    }
    assert!(named.len() > 200, "{}", named.len());
    named.retain(|_, modules| modules.len() > 1);
    assert!(named.is_empty(), "{named:#?}");
}

#[test]
fn no_room_leans_on_one_that_the_table_does_not_allow() {
    assert_eq!(forbidden(&Library::read(), &table()), [""; 0]);
}

#[test]
fn the_table_has_no_arrow_that_nobody_needs() {
    let arrows = Library::read().between_rooms();
    let needed = |from: &str, to: &str| arrows.contains_key(&(from.to_owned(), to.to_owned()));
    let mut idle = Vec::new();
    for (from, room) in &table() {
        let unused = room.leans.iter().filter(|to| !needed(from, to));
        idle.extend(unused.map(|to| format!("{from} -> {to}")));
    }
    assert_eq!(idle, [""; 0]);
}

#[test]
fn no_circle_between_rooms() {
    let arrows = table().into_iter().map(|(name, room)| (name, room.leans));
    assert_eq!(circles(&arrows.collect()), [[]; 0]);
}

#[test]
fn no_circle_between_files() {
    let circles = circles(&Library::read().between_files());
    let arrow = |(from, to): &(Module, Module)| format!("{} -> {}", from.join("/"), to.join("/"));
    let told: Vec<Vec<String>> = circles
        .iter()
        .map(|c| c.iter().map(arrow).collect())
        .collect();
    assert!(told.is_empty(), "{told:#?}");
}

#[test]
fn nothing_of_the_outside_in_a_pure_room() {
    let table = table();
    assert!(table.values().filter(|room| room.pure).count() > 10);
    assert_eq!(impure(&Library::read(), &table), [""; 0]);
}

/// The walls stand on nothing if what should fail does not.
#[test]
fn a_wall_that_is_broken_is_seen() {
    let table: BTreeMap<String, Room> = [("floor", "", true), ("roof", "floor", true)]
        .map(|(name, on, pure)| {
            let leans = on.split_whitespace().map(str::to_owned).collect();
            (name.to_owned(), Room { leans, pure })
        })
        .into();
    let built = |beam: &str, tile: &str| {
        let file = |path: &str, text: &str| {
            let module = path.split('/').map(str::to_owned).collect();
            (module, text.to_owned())
        };
        Library::of(vec![
            file("floor", "mod beam;\npub use beam::Beam;\n"),
            file("floor/beam", beam),
            file("floor/board", "use super::Beam;\n"),
            file("roof", "mod tile;\n#[cfg(test)]\nmod trial;\n"),
            file("roof/tile", tile),
            file("roof/trial", "use std::fs;\nuse crate::cellar::Rat;\n"),
        ])
    };
    let sound = built(
        "pub struct Beam;\n// use crate::roof;\n#[cfg(test)]\nmod tests {\n    use std::fs;\n}\n",
        "use crate::floor::{self, Beam};\n",
    );
    assert_eq!(forbidden(&sound, &table), [""; 0]);
    assert_eq!(impure(&sound, &table), [""; 0]);
    assert_eq!(circles(&sound.between_files()), [[]; 0]);

    let up = built("use crate::{\n    roof::tile::Tile,\n};\n", "");
    assert_eq!(forbidden(&up, &table), ["floor/beam leans on `roof`"]);
    let inline = built("fn f() -> crate::roof::Tile { todo!() }\n", "");
    assert_eq!(forbidden(&inline, &table), ["floor/beam leans on `roof`"]);
    let strange = built("", "use crate::cellar::Rat;\n");
    assert_eq!(forbidden(&strange, &table), ["roof/tile leans on `cellar`"]);

    let clock = built(
        "",
        "use std::{collections::BTreeMap, time::{self, Instant}};\n",
    );
    let told = ["roof/tile: `std::time`", "roof/tile: `std::time::Instant`"];
    assert_eq!(impure(&clock, &table), told);
    let file = built("fn f() { let _ = std::fs::read(\"x\"); }\n", "");
    assert_eq!(impure(&file, &table), ["floor/beam: `std::fs::read`"]);

    // Through the name that the room gives on.
    let round = built("use super::board::Board;\npub struct Beam;\n", "");
    let circles = circles(&round.between_files());
    assert_eq!((circles.len(), circles[0].len()), (1, 2), "{circles:?}");
}
