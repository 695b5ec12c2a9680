//! A page: the lines of an answer, wrapped for a phone, with the ranges that stand out.

use std::ops::Range;

use super::clean::{clean, is_shown};

/// Characters in a line of a phone's chat that is not yet broken in two.
pub const WIDTH: usize = 40;

/// The longest reply to input that was unclear, in characters.
pub const UNCLEAR_CHARS_MAX: usize = 1_900;

/// Holds two words of a line together; it is shown as a space. Words of people never hold one, since
/// `clean` has folded it.
const JOIN: char = '\u{a0}';

/// One line of an answer, before it is wrapped: runs of text, some of them bold.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Line(Vec<(String, bool)>);

impl Line {
    pub fn new() -> Self {
        Self::default()
    }

    pub fn plain(mut self, text: impl Into<String>) -> Self {
        self.0.push((text.into(), false));
        self
    }

    pub fn bold(mut self, text: impl Into<String>) -> Self {
        self.0.push((text.into(), true));
        self
    }

    /// Words of characters that know whether they are bold; anything invisible is left out.
    fn words(&self) -> Vec<Vec<(char, bool)>> {
        let mut words = vec![Vec::new()];
        for (text, bold) in &self.0 {
            for character in text.chars() {
                match words.last_mut() {
                    Some(word) if character == JOIN => word.push((' ', *bold)),
                    Some(word) if !character.is_whitespace() && is_shown(character) => {
                        word.push((character, *bold));
                    }
                    _ if character.is_whitespace() => words.push(Vec::new()),
                    _ => {}
                }
            }
        }
        words.retain(|word| !word.is_empty());
        glue_units(words)
    }
}

impl From<&str> for Line {
    fn from(text: &str) -> Self {
        Line::new().plain(text)
    }
}

impl From<String> for Line {
    fn from(text: String) -> Self {
        Line::new().plain(text)
    }
}

/// As one word that no line breaks.
pub fn joined(text: &str) -> String {
    text.replace(' ', JOIN.encode_utf8(&mut [0; 4]))
}

/// Keep a number and the unit after it on one line: "12 g," is one word.
fn glue_units(words: Vec<Vec<(char, bool)>>) -> Vec<Vec<(char, bool)>> {
    let mut glued: Vec<Vec<(char, bool)>> = Vec::new();
    for word in words {
        let unit: String = word
            .iter()
            .map(|(character, _)| *character)
            .filter(|character| character.is_alphabetic())
            .collect();
        let is_unit = matches!(unit.as_str(), "g" | "kcal" | "mg" | "kJ" | "kg" | "ml");
        match glued.last_mut() {
            Some(last) if is_unit && last.last().is_some_and(|(end, _)| end.is_ascii_digit()) => {
                let bold = word[0].1 && last.last().is_some_and(|(_, bold)| *bold);
                last.push((' ', bold));
                last.extend(word);
            }
            _ => glued.push(word),
        }
    }
    glued
}

/// The lines said so far. Bold ranges are byte ranges of the text.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Page {
    pub text: String,
    pub bold: Vec<Range<usize>>,
    whole_lines: bool,
}

impl Page {
    pub fn new() -> Self {
        Self::default()
    }

    /// A page whose lines are left to the screen to break, for answers of one line.
    pub fn unwrapped() -> Self {
        Self {
            whole_lines: true,
            ..Self::default()
        }
    }

    pub fn is_empty(&self) -> bool {
        self.text.is_empty()
    }

    /// How long it is, in characters.
    pub fn chars(&self) -> usize {
        self.text.chars().count()
    }

    /// Say a line, wrapped at words.
    pub fn say(&mut self, line: impl Into<Line>) {
        self.wrap(&line.into(), ["", ""]);
    }

    /// Say one entry of a list: what does not fit on its line is indented below it.
    pub fn item(&mut self, line: impl Into<Line>) {
        self.wrap(&line.into(), ["", "  "]);
    }

    /// Say more about the entry above it, indented.
    pub fn below(&mut self, line: impl Into<Line>) {
        self.wrap(&line.into(), ["  ", "  "]);
    }

    /// A text to be typed or copied: never broken.
    pub fn example(&mut self, text: &str) {
        self.start_line();
        self.text.push_str(&clean(text));
    }

    /// Say a longer text, a paragraph on each of its lines; one that begins with "> " is an example.
    pub fn tell(&mut self, text: &str) {
        for line in text.lines() {
            match line.strip_prefix("> ") {
                Some(example) => self.example(example),
                None if line.is_empty() => self.gap(),
                None => self.say(line),
            }
        }
    }

    /// An empty line, but never at the top or twice.
    pub fn gap(&mut self) {
        if !self.text.is_empty() && !self.text.ends_with('\n') {
            self.text.push('\n');
        }
    }

    /// Everything of another page, below.
    pub fn append(&mut self, other: Page) {
        if other.is_empty() {
            return;
        }
        self.start_line();
        let offset = self.text.len();
        self.text.push_str(&other.text);
        self.bold.extend(
            other
                .bold
                .into_iter()
                .map(|range| range.start + offset..range.end + offset),
        );
    }

    /// Leave out whole lines from the end until no more than so many characters are left.
    pub fn limit(&mut self, chars_max: usize) {
        if self.chars() <= chars_max {
            return;
        }
        let end = self
            .text
            .char_indices()
            .nth(chars_max - 2)
            .map_or(self.text.len(), |(at, _)| at);
        let end = self.text[..end].rfind('\n').unwrap_or(end);
        self.text.truncate(end);
        self.text.push_str("\n…");
        self.bold.retain(|range| range.end <= end);
    }

    fn start_line(&mut self) {
        if !self.text.is_empty() {
            self.text.push('\n');
        }
    }

    /// Indented as told on its first line and on those that follow.
    fn wrap(&mut self, line: &Line, [first, indent]: [&str; 2]) {
        self.start_line();
        self.text.push_str(first);
        let mut column = first.len();
        let mut bold_before = false;
        for (at, word) in line.words().iter().enumerate() {
            let wide = word.len();
            if at > 0 && column + 1 + wide > WIDTH && !self.whole_lines {
                self.text.push('\n');
                self.text.push_str(indent);
                column = indent.len();
            } else if at > 0 {
                // A space between two bold words is bold too, so that a name is one range.
                let joins = bold_before && word[0].1;
                self.put(' ', joins);
                column += 1;
            }
            for (character, bold) in word {
                self.put(*character, *bold);
            }
            column += wide;
            bold_before = word.last().is_some_and(|(_, bold)| *bold);
        }
    }

    fn put(&mut self, character: char, bold: bool) {
        let start = self.text.len();
        self.text.push(character);
        if bold {
            match self.bold.last_mut() {
                Some(range) if range.end == start => range.end = self.text.len(),
                _ => self.bold.push(start..self.text.len()),
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn page(line: impl Into<Line>) -> Page {
        let mut page = Page::new();
        page.say(line);
        page
    }

    #[test]
    fn lines_break_at_words_before_they_are_too_long() {
        let long = "protein 12 g, fat 3.4 g, carbs 56 g, fibre at least 7.8 g, sodium 480 mg";
        let said = page(long);
        assert!(
            said.text.lines().all(|line| line.chars().count() <= WIDTH),
            "{}",
            said.text
        );
        assert_eq!(said.text.replace('\n', " "), long);
    }

    #[test]
    fn a_number_stays_with_its_unit() {
        for filler in 1..60 {
            let said = page(format!("{} 1234 kcal, and 12 g", "x ".repeat(filler)));
            for line in said.text.lines() {
                assert!(
                    !line.starts_with("kcal") && !line.starts_with('g'),
                    "{}",
                    said.text
                );
            }
        }
    }

    #[test]
    fn joined_words_stay_together() {
        let phrase = joined("fibre at least 7.8 g");
        for filler in 1..60 {
            let said = page(format!("{}{phrase}", "x ".repeat(filler)));
            assert!(said.text.contains("fibre at least 7.8 g"), "{}", said.text);
        }
    }

    #[test]
    fn a_word_longer_than_the_line_stays_whole() {
        let word = "x".repeat(WIDTH + 5);
        assert_eq!(page(format!("a {word} b")).text, format!("a\n{word}\nb"));
    }

    #[test]
    fn bold_ranges_cover_what_was_bold() {
        let said = page(
            Line::new()
                .bold("crème fraîche tart")
                .plain(" T1, ")
                .bold("~215 kcal")
                .plain(", protein"),
        );
        let bold: Vec<&str> = said
            .bold
            .iter()
            .map(|range| &said.text[range.clone()])
            .collect();
        assert_eq!(bold, ["crème fraîche tart", "~215 kcal"]);

        let mut two = page("first");
        two.append(said.clone());
        let moved: Vec<&str> = two
            .bold
            .iter()
            .map(|range| &two.text[range.clone()])
            .collect();
        assert_eq!(moved, bold);
    }

    #[test]
    fn a_bold_text_over_two_lines_is_two_ranges() {
        let said = page(Line::new().bold("word ".repeat(12)));
        assert_eq!(said.bold.len(), said.text.lines().count());
        assert!(
            said.bold
                .iter()
                .all(|range| !said.text[range.clone()].contains('\n'))
        );
    }

    #[test]
    fn a_limit_cuts_whole_lines() {
        let mut long = Page::new();
        for number in 0..400 {
            long.say(Line::new().plain(format!("{number} some ")).bold("words"));
        }
        long.limit(500);
        assert!(long.text.chars().count() <= 500);
        assert!(long.text.ends_with("words\n…"));
        assert!(
            long.bold
                .iter()
                .all(|range| &long.text[range.clone()] == "words")
        );
    }

    #[test]
    fn nothing_invisible_passes_a_page() {
        let said = page("a\u{1b}b\nc\u{202e}d");
        assert_eq!(said.text, "ab cd");
    }
}
