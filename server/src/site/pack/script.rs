//! Scripts as they are served: without what only people and the type checker read.

/// Leaves out the comments at the beginning of lines, and the lines that hold nothing else. A comment behind
/// code stays, so that this need not know strings and regular expressions; in turn, no line of a template
/// literal may begin like a comment.
pub(super) fn without_comments(script: &str) -> String {
    let mut kept = String::with_capacity(script.len());
    let mut in_block = false;
    for line in script.split_inclusive('\n') {
        let code = after_comments(line, &mut in_block);
        if code.len() == line.trim_start().len() {
            kept.push_str(line);
        } else {
            kept.push_str(code);
        }
    }
    kept
}

/// What follows the comments at the beginning of a line. `in_block` says whether a block comment is open.
fn after_comments<'a>(line: &'a str, in_block: &mut bool) -> &'a str {
    let mut rest = line.trim_start();
    loop {
        if *in_block {
            let Some((_, after)) = rest.split_once("*/") else {
                return "";
            };
            *in_block = false;
            rest = after.trim_start();
        }
        match rest.strip_prefix("/*") {
            Some(comment) => {
                *in_block = true;
                rest = comment;
            }
            None if rest.starts_with("//") => return "",
            None => return rest,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn comments_at_the_beginning_of_lines_go() {
        for (script, expected) in [
            ("// why\nconst a = 1;\n", "const a = 1;\n"),
            ("  // why\n  f();", "  f();"),
            ("/** @type {number} */\nlet b;", "let b;"),
            ("/**\n * @param {number} c\n */\nf(c);\n", "f(c);\n"),
            ("/* a */ /* b */ f();\n", "f();\n"),
            ("/* a\nb */ f();\n// end", "f();\n"),
            ("/*/ a */ f();", "f();"),
        ] {
            assert_eq!(without_comments(script), expected);
        }
    }

    #[test]
    fn code_stays_as_it_is() {
        for script in [
            "const url = 'https://example.org'; // here\n",
            "f(a.replace(/\\/$/, ''));\n\n  g(/** @type {any} */ (b));",
            "",
            "\n\n",
        ] {
            assert_eq!(without_comments(script), script);
        }
    }
}
