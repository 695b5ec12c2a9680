//! How digits make a number: separators by locale, fractions, other digits. A run of digits and
//! separators is one number or none; a fragment of it is never read as a mass.
//!
//! ```text
//! numeral  := integer [fraction] | fraction | vulgar
//! integer  := digit+ ((group-mark digit digit digit)* [decimal-mark digit+])
//! group    := "," "." "'" no-break or thin space, three digits each time; a plain space before "0"
//! fraction := n "/" d, n < d and d a kitchen's denominator
//! ```
//! "1,240" is a thousand and more, "1,5" and "0,240" have a decimal comma. "1.240" reads 1.24, but a
//! household that writes "1.240,5" may mean 1240: the second reading is kept beside it.

use super::letters::is_apostrophe;
use super::lexer::Letter;
use super::token::Kind;

#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Numeral {
    pub value: f64,
    /// The reading of another locale, where the text does not decide.
    pub other: Option<f64>,
}

impl Numeral {
    pub fn plain(value: f64) -> Self {
        Self { value, other: None }
    }
}

/// Decimal digits: Latin, Arabic-Indic, Persian, Devanagari, Bengali, Thai, full width.
pub fn digit(c: char) -> Option<u32> {
    if c.is_ascii() {
        return c.to_digit(10);
    }
    let zero = match c {
        '\u{0660}'..='\u{0669}' => 0x0660,
        '\u{06F0}'..='\u{06F9}' => 0x06F0,
        '\u{0966}'..='\u{096F}' => 0x0966,
        '\u{09E6}'..='\u{09EF}' => 0x09E6,
        '\u{0E50}'..='\u{0E59}' => 0x0E50,
        '\u{FF10}'..='\u{FF19}' => 0xFF10,
        _ => return None,
    };
    Some(c as u32 - zero)
}

/// "½" and its kin.
pub fn vulgar(c: char) -> Option<f64> {
    let (above, below) = match c {
        '½' => (1, 2),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅐' => (1, 7),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '⅑' => (1, 9),
        '⅒' => (1, 10),
        _ => return None,
    };
    Some(f64::from(above) / f64::from(below))
}

/// A number of four digits behind a day and a month is a year of these.
const YEARS: std::ops::Range<i32> = 2000..2200;
const DENOMINATORS: [u32; 9] = [2, 3, 4, 5, 6, 8, 10, 12, 16];

/// Read the number that starts at `at`; gives its kind and the index after it.
pub fn read(letters: &[Letter], at: usize) -> (Kind, usize) {
    let scan = Scan { letters };
    if let Some(value) = scan.char_at(at).and_then(vulgar) {
        return scan.guarded(Kind::Number(Numeral::plain(value)), at + 1);
    }
    if scan.digit_at(at).is_none() {
        return scan.unreadable(at);
    }
    let (groups, marks, to) = scan.groups(at);
    if marks.is_empty()
        && let Some(read) = scan.with_integer(&groups[0], to)
    {
        return read;
    }
    if let Some(date) = dotted_date(&groups, &marks) {
        return scan.guarded(date, to);
    }
    let Some(numeral) = value_of(&groups, &marks) else {
        return scan.unreadable(to);
    };
    if let Some(value) = scan.char_at(to).and_then(vulgar) {
        return scan.guarded(Kind::Number(Numeral::plain(numeral.value + value)), to + 1);
    }
    let percent_at = to + usize::from(scan.char_at(to) == Some(' '));
    if matches!(scan.char_at(percent_at), Some('%' | '％' | '٪')) {
        return (Kind::Percent(numeral.value), percent_at + 1);
    }
    scan.guarded(Kind::Number(numeral), to)
}

/// "20.10.2026", which need not be in the calendar.
fn dotted_date(groups: &[String], marks: &[char]) -> Option<Kind> {
    let ([day, month, year], ['.', '.']) = (groups, marks) else {
        return None;
    };
    let short = day.len() <= 2 && month.len() <= 2 && year.len() == 4;
    let year: i32 = year.parse().ok()?;
    let kind = Kind::Date(day.parse().ok()?, month.parse().ok()?, year);
    (short && YEARS.contains(&year)).then_some(kind)
}

/// ".5": the digits after a point that nothing stands before.
pub fn after_point(kind: Kind, digits: usize) -> Kind {
    match kind {
        Kind::Number(numeral)
            if numeral.other.is_none() && numeral.value.fract() == 0.0 && digits < 9 =>
        {
            Kind::Number(Numeral::plain(numeral.value / 10f64.powi(digits as i32)))
        }
        _ => Kind::Unreadable,
    }
}

struct Scan<'a> {
    letters: &'a [Letter],
}

impl Scan<'_> {
    fn char_at(&self, at: usize) -> Option<char> {
        self.letters.get(at).map(|&(_, c)| c)
    }

    fn digit_at(&self, at: usize) -> Option<u32> {
        self.char_at(at).and_then(digit)
    }

    fn digits(&self, mut at: usize) -> (String, usize) {
        let mut out = String::new();
        while let Some(value) = self.digit_at(at) {
            out.push(char::from(b'0' + value as u8));
            at += 1;
        }
        (out, at)
    }

    /// Groups of digits, and the marks between them.
    fn groups(&self, at: usize) -> (Vec<String>, Vec<char>, usize) {
        let (first, mut to) = self.digits(at);
        let mut groups = vec![first];
        let mut marks = Vec::new();
        while let Some(mark) = self
            .char_at(to)
            .and_then(mark)
            .or_else(|| self.wide_mark(&groups, to))
        {
            let (group, end) = self.digits(to + 1);
            if group.is_empty() || (mark == ' ' && (group.len() != 3 || groups[0].len() > 3)) {
                break;
            }
            groups.push(group);
            marks.push(mark);
            to = end;
        }
        (groups, marks, to)
    }

    /// A plain space groups only before "000" and its like: "1 000" is one number, "2 500" may be two.
    fn wide_mark(&self, groups: &[String], at: usize) -> Option<char> {
        let first = &groups[0];
        let led = (1..=3).contains(&first.len()) && !first.starts_with('0');
        let zero = self.digit_at(at + 1) == Some(0) || groups.len() > 1;
        (self.char_at(at) == Some(' ') && led && zero).then_some(' ')
    }

    /// What may follow a plain integer: a fraction, a clock, a date, an ordinal's ending.
    fn with_integer(&self, whole: &str, to: usize) -> Option<(Kind, usize)> {
        let value: f64 = whole.parse().ok()?;
        match self.char_at(to) {
            Some('/' | '⁄') if self.digit_at(to + 1).is_some() => {
                return Some(self.slashed(value, to + 1));
            }
            Some(':') if whole.len() <= 2 => {
                let (minutes, end) = self.digits(to + 1);
                if minutes.len() == 2 && value < 24.0 && minutes.as_str() < "60" {
                    return Some(self.guarded(Kind::Clock, end));
                }
            }
            Some('-') if whole.len() == 4 => {
                if let Some(date) = self.iso_date(value, to) {
                    return Some(date);
                }
            }
            _ => {}
        }
        if let Some(end) = self.ordinal_ending(whole, to) {
            return Some((Kind::Ordinal(whole.parse().ok()?), end));
        }
        // A mixed number: "2 1/2", "2-1/2", "2 ½".
        let gap = to
            + usize::from(matches!(
                self.char_at(to),
                Some(' ' | '-' | '\u{a0}' | '\u{2009}' | '\u{202f}')
            ));
        if gap == to {
            return None;
        }
        if let Some(part) = self.char_at(gap).and_then(vulgar) {
            return Some(self.guarded(Kind::Number(Numeral::plain(value + part)), gap + 1));
        }
        let (above, slash) = self.digits(gap);
        if above.is_empty() || !matches!(self.char_at(slash), Some('/' | '⁄')) {
            return None;
        }
        match self.slashed(above.parse().ok()?, slash + 1) {
            (Kind::Number(part), end) if part.value < 1.0 => {
                Some((Kind::Number(Numeral::plain(value + part.value)), end))
            }
            _ => None,
        }
    }

    /// After "n/": a fraction, a ratio or a date.
    fn slashed(&self, above: f64, at: usize) -> (Kind, usize) {
        let (below, end) = self.digits(at);
        let Ok(below) = below.parse::<u32>() else {
            return self.unreadable(end);
        };
        if matches!(self.char_at(end), Some('/')) && self.digit_at(end + 1).is_some() {
            let (year, after) = self.digits(end + 1);
            let year = year.parse::<i32>().unwrap_or(0);
            let year = if year < 100 { year + 2000 } else { year };
            let kind = match YEARS.contains(&year) && above < 100.0 && below < 100 {
                true => Kind::Date(above as u32, below, year),
                false => Kind::Unreadable,
            };
            return self.guarded(kind, after);
        }
        if below == 0 {
            return self.unreadable(end);
        }
        let below_value = f64::from(below);
        if above > 0.0 && above < below_value && DENOMINATORS.contains(&below) {
            return self.guarded(Kind::Number(Numeral::plain(above / below_value)), end);
        }
        self.guarded(Kind::Ratio(above, below_value), end)
    }

    fn iso_date(&self, year: f64, to: usize) -> Option<(Kind, usize)> {
        let (month, dash) = self.digits(to + 1);
        if month.len() != 2 || self.char_at(dash) != Some('-') {
            return None;
        }
        let (day, end) = self.digits(dash + 1);
        if day.len() != 2 {
            return None;
        }
        Some(self.guarded(
            Kind::Date(day.parse().ok()?, month.parse().ok()?, year as i32),
            end,
        ))
    }

    fn ordinal_ending(&self, whole: &str, to: usize) -> Option<usize> {
        let ending: String = [self.char_at(to)?, self.char_at(to + 1)?]
            .iter()
            .map(char::to_ascii_lowercase)
            .collect();
        let follows = self.char_at(to + 2).is_some_and(char::is_alphanumeric);
        let fits = matches!(ending.as_str(), "st" | "nd" | "rd" | "th");
        (fits && !follows && whole.len() <= 3).then_some(to + 2)
    }

    /// A number after which more digits, an exponent or a power stand is not readable.
    fn guarded(&self, kind: Kind, to: usize) -> (Kind, usize) {
        let Some(next) = self.char_at(to) else {
            return (kind, to);
        };
        let zero_x = matches!(next, 'x' | 'X')
            && matches!(&kind, Kind::Number(numeral) if numeral.value == 0.0)
            && self.char_at(to + 1).is_some_and(|c| c.is_ascii_hexdigit());
        let exponent = matches!(next, 'e' | 'E')
            && (self.digit_at(to + 1).is_some()
                || (matches!(self.char_at(to + 1), Some('+' | '-'))
                    && self.digit_at(to + 2).is_some()));
        let glued_mark = (matches!(next, '/' | '⁄' | '_' | '^')
            || mark(next).is_some_and(|c| c != ' '))
            && self
                .char_at(to + 1)
                .is_some_and(|c| digit(c).is_some() || mark(c).is_some_and(|m| m != ' '))
            && self.next_digit_within(to + 1);
        let odd = (next.is_numeric() && !next.is_alphabetic()) || digit(next).is_some();
        if zero_x || exponent || glued_mark || odd {
            return self.unreadable(to);
        }
        (kind, to)
    }

    fn next_digit_within(&self, at: usize) -> bool {
        (at..at + 3).any(|at| self.digit_at(at).is_some())
    }

    /// Pass over all that is glued to the number.
    fn unreadable(&self, mut to: usize) -> (Kind, usize) {
        while let Some(c) = self.char_at(to) {
            let glued = c.is_alphanumeric()
                || matches!(c, '_' | '^' | '/' | '⁄')
                || (matches!(c, '+' | '-' | '.' | ',' | '\'' | '’')
                    && self
                        .char_at(to + 1)
                        .is_some_and(|c| c.is_numeric() || matches!(c, '.' | ',' | '\'' | '’')));
            if !glued {
                break;
            }
            to += 1;
        }
        (Kind::Unreadable, to)
    }
}

/// Marks that may stand between digits, folded: any white one is a space.
fn mark(c: char) -> Option<char> {
    match c {
        '.' | ',' => Some(c),
        '٫' => Some('.'),
        '٬' => Some(','),
        '，' => Some(','),
        '．' => Some('.'),
        '\u{a0}' | '\u{2009}' | '\u{202f}' => Some(' '),
        _ if is_apostrophe(c) => Some('\''),
        _ => None,
    }
}

/// The value of groups and marks, or nothing when they make no number.
fn value_of(groups: &[String], marks: &[char]) -> Option<Numeral> {
    let thousands = |groups: &[String]| {
        (1..=3).contains(&groups[0].len())
            && groups[0] != "0"
            && groups[1..].iter().all(|group| group.len() == 3)
    };
    let joined = |groups: &[String]| groups.concat();
    let Some(&last) = marks.last() else {
        return finite(&groups[0]).map(Numeral::plain);
    };
    let split = groups.len() - 1;
    let same = marks.iter().all(|&mark| mark == last);
    if same && marks.len() > 1 || matches!(last, ' ' | '\'') {
        let grouped = same && thousands(groups);
        return grouped
            .then(|| finite(&joined(groups)).map(Numeral::plain))
            .flatten();
    }
    if !same {
        let first = marks[0];
        let regular = marks[..split - 1].iter().all(|&mark| mark == first) && first != last;
        if !regular || !thousands(&groups[..split]) {
            return None;
        }
    }
    let decimal = finite(&format!("{}.{}", joined(&groups[..split]), groups[split]))?;
    if same && thousands(groups) {
        let whole = finite(&joined(groups))?;
        return Some(match last {
            ',' => Numeral::plain(whole),
            _ => Numeral {
                value: decimal,
                other: Some(whole),
            },
        });
    }
    Some(Numeral::plain(decimal))
}

fn finite(digits: &str) -> Option<f64> {
    digits.parse().ok().filter(|value: &f64| value.is_finite())
}
