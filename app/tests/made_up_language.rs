//! Every screen as the server renders it, in the made-up language: a sentence that is not in the
//! language's folder shows by its unmarked letters.

mod assets;

use evenloop_app::base::Base;
use evenloop_app::routes::{self, Screen};
use evenloop_app::shell;
use evenloop_app::starters::STARTERS;

/// What may stand there unmarked: units, the letters of yarns and measured lengths, and whose sizes of
/// needles and shoes are told.
const ALLOWED: [&str; 12] = [
    "cm", "in", "mm", "m", "g", "A", "B", "C", "D", "US", "UK", "EU",
];

/// Attributes that are read out or shown.
const TOLD: [&str; 5] = ["aria-label", "title", "alt", "placeholder", "content"];

#[test]
fn no_screen_says_anything_but_what_the_language_says() {
    let assets = assets::some();
    let mut pages = vec![("/nowhere".to_owned(), None)];
    pages.extend(Screen::ALL.map(|screen| (screen.path().to_owned(), None)));
    pages.extend(STARTERS.iter().map(|starter| {
        let query = format!("{}={}", routes::RECIPE, starter.link());
        (Screen::Plan.path().to_owned(), Some(query))
    }));
    // A recipe that makes no sock, and one that is no recipe.
    for link in ["1eyJmb290Ijp7Imxlbmd0aCI6MTB9fQ", "1", "9", "x"] {
        let query = format!("{}={link}", routes::RECIPE);
        pages.push((Screen::Plan.path().to_owned(), Some(query)));
    }
    let mut found = Vec::new();
    for (path, query) in pages {
        let page = shell::render(&assets, &Base::default(), &path, query.as_deref(), None);
        let texts = texts(&page);
        assert!(texts.len() > 10, "{path} {query:?}: {texts:?}");
        let unmarked = texts.into_iter().filter(|text| is_unmarked(text));
        found.extend(unmarked.map(|text| format!("{path}: {text}")));
    }
    found.sort();
    found.dedup();
    assert!(found.is_empty(), "{}", found.join("\n"));
}

/// Whether there is a word in it that is not of the language.
fn is_unmarked(text: &str) -> bool {
    text.split(|c: char| !c.is_alphabetic())
        .filter(|word| word.chars().any(|c| c.is_ascii_alphabetic()))
        .any(|word| !ALLOWED.contains(&word))
}

/// What a page shows and says: its text, and the attributes that are told. `content` counts only for
/// the page's description.
fn texts(page: &str) -> Vec<String> {
    let mut out = Vec::new();
    let mut rest = page;
    while let Some((text, after)) = rest.split_once('<') {
        out.push(unescaped(text));
        let end = if after.starts_with("!--") { "-->" } else { ">" };
        let Some((tag, after)) = after.split_once(end) else {
            break;
        };
        if !tag.starts_with('!') {
            out.extend(attributes(tag));
        }
        rest = match tag.split([' ', '\n']).next() {
            Some(raw @ ("script" | "style")) => after
                .split_once(&format!("</{raw}>"))
                .map_or("", |(_, after)| after),
            _ => after,
        };
    }
    out.retain(|text| !text.trim().is_empty());
    out
}

fn attributes(tag: &str) -> Vec<String> {
    let mut out = Vec::new();
    let described = tag.contains("name=\"description\"");
    for name in TOLD {
        if name == "content" && !described {
            continue;
        }
        if let Some((_, after)) = tag.split_once(&format!(" {name}=\""))
            && let Some((value, _)) = after.split_once('"')
        {
            out.push(unescaped(value));
        }
    }
    out
}

fn unescaped(text: &str) -> String {
    [
        ("&lt;", "<"),
        ("&gt;", ">"),
        ("&quot;", "\""),
        ("&#x27;", "'"),
        ("&amp;", "&"),
    ]
    .iter()
    .fold(text.to_owned(), |text, (entity, c)| text.replace(entity, c))
}

#[test]
fn what_is_not_of_the_language_is_seen() {
    let page = "<!DOCTYPE html><p title=\"Ƭáá ƀé\">Ɱééĺ 12&#x27;s</p><!-- no text --><b>Foot 3 cm</b><script>var x</script><img alt=\"a sock\">";
    let texts = texts(page);
    let seen: Vec<&str> = texts
        .iter()
        .map(String::as_str)
        .filter(|text| is_unmarked(text))
        .collect();
    assert_eq!(seen, ["Ɱééĺ 12's", "Foot 3 cm", "a sock"]);
}
