//! An answer's text as Telegram takes it: in parts that fit, with markup that no text can break.

use std::ops::Range;

/// UTF-16 units of a message, counted after its markup is read (Bot API, sendMessage).
const UNITS_MAX: usize = 4096;

/// The text as HTML, in as many parts as it needs. It is cut between lines; a line that is too long
/// by itself is cut between words, and a word that is too long between characters. Markup is made
/// after the cut, so no entity or tag is ever cut in two.
pub fn parts(text: &str, bold: &[[usize; 2]]) -> Vec<String> {
    cut(text, UNITS_MAX)
        .into_iter()
        .map(|part| html(text, part, bold))
        .collect()
}

/// Ranges of the text that are no longer than so many units each, without the white space between them.
fn cut(text: &str, units_max: usize) -> Vec<Range<usize>> {
    let mut parts = Vec::new();
    let mut start = 0;
    while start < text.len() {
        let fits = start + fitting(&text[start..], units_max);
        let end = match fits {
            fits if fits == text.len() => fits,
            fits => start + boundary(&text[start..fits], &text[fits..]),
        };
        let part = trimmed(text, start..end);
        if !part.is_empty() {
            parts.push(part);
        }
        start = end;
    }
    parts
}

/// How many bytes of the text make no more than so many units.
fn fitting(text: &str, units_max: usize) -> usize {
    let mut units = 0;
    for (at, character) in text.char_indices() {
        units += character.len_utf16();
        if units > units_max {
            return at;
        }
    }
    text.len()
}

/// Where to end a part that could be as long as `whole`, before `rest`.
fn boundary(whole: &str, rest: &str) -> usize {
    if rest.starts_with('\n') {
        return whole.len();
    }
    let after = |separator: char| whole.rfind(separator).map(|at| at + separator.len_utf8());
    after('\n').or_else(|| after(' ')).unwrap_or(whole.len())
}

/// Telegram takes white space off both ends by itself; a part of nothing else would be refused. The
/// indent of a first line stays.
fn trimmed(text: &str, range: Range<usize>) -> Range<usize> {
    let part = &text[range.clone()];
    let lines = part.trim_start_matches(['\n', '\r']);
    let start = range.start + (part.len() - lines.len());
    start..start + lines.trim_end().len()
}

fn html(text: &str, part: Range<usize>, bold: &[[usize; 2]]) -> String {
    let mut html = String::with_capacity(part.len() + 16);
    let mut done = part.start;
    for [start, end] in bold {
        let (start, end) = ((*start).max(done), (*end).min(part.end));
        // A range that lies elsewhere, or that does not fit the text, leaves it plain.
        let (Some(before), Some(inside)) = (text.get(done..start), text.get(start..end)) else {
            continue;
        };
        if inside.is_empty() || start > part.end {
            continue;
        }
        escape(before, &mut html);
        html.push_str("<b>");
        escape(inside, &mut html);
        html.push_str("</b>");
        done = end;
    }
    escape(&text[done..part.end], &mut html);
    html
}

/// The three characters that HTML of the Bot API takes for its own.
fn escape(text: &str, html: &mut String) {
    for character in text.chars() {
        match character {
            '&' => html.push_str("&amp;"),
            '<' => html.push_str("&lt;"),
            '>' => html.push_str("&gt;"),
            other => html.push(other),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn units(text: &str) -> usize {
        text.chars().map(char::len_utf16).sum()
    }

    fn shown(html: &str) -> String {
        html.replace("<b>", "")
            .replace("</b>", "")
            .replace("&lt;", "<")
            .replace("&gt;", ">")
            .replace("&amp;", "&")
    }

    #[test]
    fn text_cannot_become_markup() {
        assert_eq!(
            parts("<b>5 & 6</b> &lt;", &[]),
            ["&lt;b&gt;5 &amp; 6&lt;/b&gt; &amp;lt;"]
        );
    }

    #[test]
    fn bold_ranges_become_tags() {
        assert_eq!(
            parts("dal & rice: 5 > 4", &[[0, 3], [12, 17]]),
            ["<b>dal</b> &amp; rice: <b>5 &gt; 4</b>"]
        );
    }

    #[test]
    fn ranges_that_do_not_fit_leave_the_text_plain() {
        for bold in [[3, 400], [1, 2], [400, 500], [3, 3], [5, 2]] {
            let part = &parts("crème", &[bold])[0];
            assert_eq!(shown(part), "crème", "{bold:?}");
        }
    }

    #[test]
    fn a_long_text_is_cut_between_lines() {
        let line = "x".repeat(99);
        let text = vec![line.as_str(); 100].join("\n");
        let parts = parts(&text, &[]);
        assert_eq!(parts.len(), 3);
        assert!(parts.iter().all(|part| units(part) <= UNITS_MAX));
        assert_eq!(parts.join("\n"), text);
    }

    #[test]
    fn a_line_that_just_fits_is_not_cut() {
        let text = format!("{}\n{}", "x".repeat(UNITS_MAX), "y".repeat(UNITS_MAX));
        assert_eq!(parts(&text, &[]).join("\n"), text);
        assert_eq!(parts(&text, &[]).len(), 2);
    }

    #[test]
    fn a_long_line_is_cut_between_words_and_a_long_word_anywhere() {
        let words = "word ".repeat(1000);
        assert!(parts(&words, &[]).iter().all(|part| part.ends_with("word")));
        let word = "😀".repeat(5000);
        let parts = parts(&word, &[]);
        assert_eq!(parts.len(), 3);
        assert_eq!(parts.concat(), word);
    }

    #[test]
    fn units_are_those_of_utf_16() {
        assert_eq!(parts(&"😀".repeat(2048), &[]).len(), 1);
        assert_eq!(parts(&"😀".repeat(2049), &[]).len(), 2);
        assert_eq!(parts(&"&".repeat(4096), &[]).len(), 1);
    }

    #[test]
    fn a_bold_range_over_a_cut_is_bold_on_both_sides() {
        let text = format!("{}\n{}", "x".repeat(4000), "y".repeat(4000));
        let parts = parts(&text, &[[3990, 4011]]);
        assert!(parts[0].ends_with("<b>xxxxxxxxxx</b>"));
        assert!(parts[1].starts_with("<b>yyyyyyyyyy</b>y"));
    }

    #[test]
    fn nothing_makes_no_part() {
        assert!(parts("", &[]).is_empty());
        assert!(parts(" \n\n ", &[]).is_empty());
    }

    proptest! {
        #[test]
        fn any_text_comes_out_whole_in_parts_that_fit(
            text in "[a-c<&>😀é \n]{0,400}",
            bold in proptest::collection::vec((0_usize..500, 0_usize..500), 0..5),
            units_max in 2_usize..60,
        ) {
            let bold: Vec<[usize; 2]> = bold.into_iter().map(|(start, end)| [start, end]).collect();
            let cut = cut(&text, units_max);
            let mut said = String::new();
            for part in cut {
                prop_assert!(units(&text[part.clone()]) <= units_max);
                let html = html(&text, part.clone(), &bold);
                prop_assert_eq!(shown(&html), &text[part]);
                prop_assert_eq!(html.matches("<b>").count(), html.matches("</b>").count());
                said.push_str(&shown(&html));
            }
            let visible = |text: &str| text.chars().filter(|c| !c.is_whitespace()).collect::<String>();
            prop_assert_eq!(visible(&said), visible(&text));
        }
    }
}
