//! How the core is built: no file longer than is read in one go, no two modules that need each other, and the finishes told
//! apart in one place. The bounds are the project's own (`DEVELOPERS.md`); the source is read by `syn`, as the compiler reads it.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use syn::spanned::Spanned;
use syn::visit::Visit;
use syn::{Attribute, Item, UseTree};

/// Lines of a file, its tests apart.
const MOST_LINES: usize = 400;

/// A file of the core as a module: its path (`strip::rule`), its source and what that says.
struct Module {
    path: Vec<String>,
    file: PathBuf,
    lines: usize,
    syntax: syn::File,
}

fn source_files(folder: &Path, found: &mut Vec<PathBuf>) {
    let entries = std::fs::read_dir(folder).unwrap_or_else(|e| panic!("{}: {e}", folder.display()));
    for entry in entries {
        let path = entry.expect("an entry of the folder").path();
        if path.is_dir() {
            source_files(&path, found);
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            found.push(path);
        }
    }
}

fn modules() -> Vec<Module> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../core/src");
    let mut files = Vec::new();
    source_files(&root, &mut files);
    files.sort();
    let module = |file: PathBuf| {
        let text = std::fs::read_to_string(&file).unwrap_or_else(|e| panic!("{}: {e}", file.display()));
        let syntax = syn::parse_file(&text).unwrap_or_else(|e| panic!("{}: {e}", file.display()));
        let inside = file.strip_prefix(&root).expect("a file of the core").with_extension("");
        let path = inside.iter().map(|part| part.to_string_lossy().into_owned()).collect();
        Module { path, lines: text.lines().count(), file, syntax }
    };
    files.into_iter().map(module).collect()
}

fn attributes(item: &Item) -> &[Attribute] {
    match item {
        Item::Const(item) => &item.attrs,
        Item::Enum(item) => &item.attrs,
        Item::Fn(item) => &item.attrs,
        Item::Impl(item) => &item.attrs,
        Item::Mod(item) => &item.attrs,
        Item::Struct(item) => &item.attrs,
        Item::Use(item) => &item.attrs,
        _ => &[],
    }
}

/// Whether an item is there for tests alone.
fn is_test(item: &Item) -> bool {
    let only_test = |attribute: &Attribute| {
        attribute.path().is_ident("cfg") && attribute.parse_args::<syn::Path>().is_ok_and(|of| of.is_ident("test"))
    };
    attributes(item).iter().any(only_test)
}

fn lines_of(item: &Item) -> usize {
    let span: proc_macro2::Span = item.span();
    span.end().line - span.start().line + 1
}

/// The paths that a file names, in `use` and elsewhere, its tests apart.
#[derive(Default)]
struct Named(Vec<Vec<String>>);

impl<'ast> Visit<'ast> for Named {
    fn visit_item(&mut self, item: &'ast Item) {
        if !is_test(item) {
            syn::visit::visit_item(self, item);
        }
    }

    fn visit_item_use(&mut self, item: &'ast syn::ItemUse) {
        self.tree(&item.tree, &mut Vec::new());
    }

    fn visit_path(&mut self, path: &'ast syn::Path) {
        self.0.push(path.segments.iter().map(|segment| segment.ident.to_string()).collect());
        syn::visit::visit_path(self, path);
    }
}

impl Named {
    fn tree(&mut self, tree: &UseTree, before: &mut Vec<String>) {
        match tree {
            UseTree::Path(path) => {
                before.push(path.ident.to_string());
                self.tree(&path.tree, before);
                before.pop();
            }
            UseTree::Group(group) => group.items.iter().for_each(|tree| self.tree(tree, before)),
            UseTree::Name(name) => self.0.push(before.iter().cloned().chain([name.ident.to_string()]).collect()),
            UseTree::Rename(name) => self.0.push(before.iter().cloned().chain([name.ident.to_string()]).collect()),
            UseTree::Glob(_) => self.0.push(before.clone()),
        }
    }
}

/// A path as it is written in a module, from the root of the core; none where it does not begin there.
fn absolute(from: &[String], path: &[String], known: &BTreeSet<Vec<String>>) -> Option<Vec<String>> {
    let (first, rest) = path.split_first()?;
    let join = |base: &[String]| Some(base.iter().chain(rest).cloned().collect());
    match first.as_str() {
        "crate" => join(&[]),
        "self" => join(from),
        "super" => join(&from[..from.len() - 1]),
        _ => {
            let own: Vec<String> = from.iter().chain([first]).cloned().collect();
            known.contains(&own).then(|| from.iter().chain(path).cloned().collect())
        }
    }
}

/// Each module with the modules that it names. The root only says what is public, and is none of them.
fn arrows(modules: &[Module]) -> BTreeMap<String, BTreeSet<String>> {
    let known: BTreeSet<Vec<String>> = modules.iter().map(|module| module.path.clone()).collect();
    let inner = modules.iter().filter(|module| module.path != ["lib"]);
    inner
        .map(|module| {
            let mut named = Named::default();
            named.visit_file(&module.syntax);
            let targets = named.0.iter().filter_map(|path| {
                let mut path = absolute(&module.path, path, &known)?;
                while !path.is_empty() && !known.contains(&path) {
                    path.pop();
                }
                (!path.is_empty() && path != module.path).then(|| path.join("::"))
            });
            (module.path.join("::"), targets.collect())
        })
        .collect()
}

/// A way from a module back to itself, where there is one.
fn cycle(arrows: &BTreeMap<String, BTreeSet<String>>) -> Option<Vec<String>> {
    fn walk(
        at: &str,
        arrows: &BTreeMap<String, BTreeSet<String>>,
        way: &mut Vec<String>,
        done: &mut BTreeSet<String>,
    ) -> Option<Vec<String>> {
        if let Some(start) = way.iter().position(|name| name == at) {
            return Some(way[start..].iter().cloned().chain([at.to_owned()]).collect());
        }
        if done.contains(at) {
            return None;
        }
        way.push(at.to_owned());
        let found = arrows.get(at).into_iter().flatten().find_map(|next| walk(next, arrows, way, done));
        way.pop();
        done.insert(at.to_owned());
        found
    }
    let mut done = BTreeSet::new();
    arrows.keys().find_map(|name| walk(name, arrows, &mut Vec::new(), &mut done))
}

#[test]
fn no_file_of_the_core_is_too_long() {
    let modules = modules();
    assert!(modules.len() > 50, "{} files were read", modules.len());
    for module in modules {
        let tests: usize = module.syntax.items.iter().filter(|item| is_test(item)).map(lines_of).sum();
        let lines = module.lines - tests;
        assert!(lines <= MOST_LINES, "{} has {lines} lines without its tests: split it by idea", module.file.display());
    }
}

#[test]
fn no_two_modules_of_the_core_need_each_other() {
    let arrows = arrows(&modules());
    assert!(arrows.values().map(BTreeSet::len).sum::<usize>() > 150, "few arrows were found: {arrows:?}");
    assert!(arrows["reckon"].contains("strip") && arrows["strip"].contains("strip::rule"), "down and into a folder");
    assert!(arrows["finish::band"].contains("finish::form"), "and beside each other");
    let found = cycle(&arrows);
    assert!(found.is_none(), "these need each other: {}", found.unwrap_or_default().join(" → "));
}

#[test]
fn a_cycle_is_found_where_there_is_one() {
    let of = |pairs: &[(&str, &[&str])]| -> BTreeMap<String, BTreeSet<String>> {
        let targets = |names: &[&str]| names.iter().map(|name| (*name).to_owned()).collect();
        pairs.iter().map(|(from, to)| ((*from).to_owned(), targets(to))).collect()
    };
    assert!(cycle(&of(&[("a", &["b", "c"]), ("b", &["c"]), ("c", &[])])).is_none(), "two ways to one place are none");
    let round = of(&[("a", &["b"]), ("b", &["c"]), ("c", &["d", "b"]), ("d", &[])]);
    assert_eq!(cycle(&round), Some(["b", "c", "b"].map(str::to_owned).to_vec()), "the way round");
}

#[test]
fn the_finishes_part_in_one_place() {
    let modules = modules();
    let items = modules.iter().filter(|module| module.path == ["finish"]).flat_map(|module| &module.syntax.items);
    let finishes = items.filter_map(|item| if let Item::Enum(of) = item { Some(of) } else { None });
    let variants: Vec<String> = finishes
        .filter(|of| of.ident == "Finish")
        .flat_map(|of| &of.variants)
        .map(|variant| variant.ident.to_string())
        .collect();
    assert!(variants.len() > 3, "the finishes were read: {variants:?}");
    for module in &modules {
        let mut named = Named::default();
        named.visit_file(&module.syntax);
        let told = named.0.iter().filter(
            |path| matches!(path.as_slice(), [.., of, variant] if of == "Finish" && variants.contains(variant)),
        );
        // The example's brief is one finish; it tells none apart.
        let allowed = usize::from(module.path == ["example"]);
        let found = told.count();
        assert!(found <= allowed, "{} tells the finishes apart {found} times", module.file.display());
    }
}
