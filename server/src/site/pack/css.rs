//! Joins the style sheets into one, without comments and white space that only people read.

/// Joins sheets in the order given and leaves out comments, indentation and empty lines.
pub(super) fn join(sheets: &[String]) -> String {
    let mut joined = String::new();
    for sheet in sheets {
        for line in without_comments(sheet).lines() {
            let line = line.trim();
            if !line.is_empty() {
                joined.push_str(line);
                joined.push('\n');
            }
        }
    }
    joined
}

/// A comment begins with `/*` unless it stands in a string.
fn without_comments(sheet: &str) -> String {
    let mut kept = String::with_capacity(sheet.len());
    let mut string: Option<char> = None;
    let mut characters = sheet.chars().peekable();
    while let Some(character) = characters.next() {
        match string {
            Some(quote) => {
                kept.push(character);
                if character == '\\' {
                    kept.extend(characters.next());
                } else if character == quote {
                    string = None;
                }
            }
            None if character == '/' && characters.peek() == Some(&'*') => {
                characters.next();
                let mut before = ' ';
                for next in characters.by_ref() {
                    if before == '*' && next == '/' {
                        break;
                    }
                    before = next;
                }
            }
            None => {
                kept.push(character);
                if matches!(character, '"' | '\'') {
                    string = Some(character);
                }
            }
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn comments_and_empty_lines_go() {
        let sheets = [
            "/* tokens */\n:root {\n  --a: 1px; /* why */\n}\n\n".into(),
            "b { c: d }".into(),
        ];
        assert_eq!(join(&sheets), ":root {\n--a: 1px;\n}\nb { c: d }\n");
    }

    #[test]
    fn a_comment_in_a_string_is_text() {
        let sheet = r#"a::after { content: "/* \" kept */"; } /**/ b {}"#;
        assert_eq!(
            without_comments(sheet),
            r#"a::after { content: "/* \" kept */"; }  b {}"#
        );
    }

    #[test]
    fn an_open_comment_ends_with_the_sheet() {
        assert_eq!(without_comments("a {} /* b"), "a {} ");
    }
}
