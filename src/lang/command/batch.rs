//! A new batch in one message, on many lines or one.
//!
//! ```text
//! batch    := verb ["raw"] name ["raw"] { sep part }
//! part     := heading | weighing-clause | poured | place | made | "raw" | ingredient
//! heading  := words ":" | "for the" words          (until the next heading or the weighing)
//! clause   := lead weighing | weighing with "net", "gross" or a container said
//! place    := ["in" | "into" | "→"] ["the"] place-name
//! made     := ("made" | "cooked") day | day
//! sep      := newline | ";" | ","
//! ```
//! A part that cannot be read is an unclear line and never costs the rest. On a line, a part without an
//! amount that only says how it is prepared belongs to the ingredient before it.

use nom::combinator::opt;
use nom::{Err, Parser};

use crate::lang::amount::may_begin;
use crate::lang::command::{key_phrase, pour_off};
use crate::lang::date::day;
use crate::lang::item;
use crate::lang::name;
use crate::lang::syntax::{
    Command, Day, Error, ErrorKind, IngredientLine, LineContent, NewBatch, Weighing, Words,
};
use crate::lang::token::{Kind, Token};
use crate::lang::tokens::{Read, Tokens, symbol, word};
use crate::lang::vocabulary::Sense;
use crate::lang::weighing::weighing;
use crate::lang::words::{parts, places};

const FORM: &str = "batch lentil dal, then its ingredients";

/// "batch ...": the verb makes it one, whatever follows.
pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, raw) = match key_phrase("raw batch", input) {
        Ok((rest, ())) => (rest, true),
        Err(_) => (key_phrase("batch", input)?.0, false),
    };
    let mut batch = whole(rest, input)?;
    batch.raw |= raw;
    Ok((rest.after(rest.len()), Command::Batch(batch)))
}

/// "made dal with 500 g lentils ...": a batch only if ingredients or a weighing follow.
pub fn read_made(input: Tokens<'_>) -> Read<'_, Command> {
    let (rest, raw) = match key_phrase("raw", input) {
        Ok((rest, ())) => (rest, true),
        Err(_) => (key_phrase("made", input)?.0, false),
    };
    let Ok(mut batch) = whole(rest, input) else {
        return input.no();
    };
    let weighed = batch.lines.iter().filter(|line| has_amount(line)).count();
    if weighed == 0 && (batch.weighing.is_none() || batch.name.text.is_empty()) {
        return input.no();
    }
    batch.raw |= raw;
    Ok((rest.after(rest.len()), Command::Batch(batch)))
}

/// A name on the first line, ingredients under it and a weighing: a batch without the verb.
pub fn read_headless(input: Tokens<'_>) -> Read<'_, Command> {
    let Some(at) = input.find(|token| token.kind == Kind::Newline) else {
        return input.no();
    };
    let head = input.range(0, at).trimmed();
    let named = head
        .slice
        .last()
        .is_some_and(|token| token.norm() == "batch")
        && head.len() > 1;
    let head = if named {
        head.range(0, head.len() - 1)
    } else {
        head
    };
    if !head.is_wordy() || head.len() > 6 {
        return input.no();
    }
    let mut batch = body(input.after(at));
    let amounts = batch.lines.iter().filter(|line| has_amount(line)).count();
    if amounts == 0 || (!named && batch.weighing.is_none()) {
        return input.no();
    }
    batch.name = name::bare(head).words();
    Ok((input.after(input.len()), Command::Batch(batch)))
}

pub fn has_amount(line: &IngredientLine) -> bool {
    matches!(
        &line.content,
        LineContent::Ingredient {
            amount: Some(_),
            ..
        }
    )
}

/// The head and the body that follow a verb.
fn whole<'a>(rest: Tokens<'a>, input: Tokens<'a>) -> Result<NewBatch, Err<Error>> {
    let rest = rest.without_lead();
    let (head, after) = head(rest);
    let (head, raw) = without_raw(head);
    let name = name::bare(head);
    if name.is_empty() {
        return Err(Err::Failure(
            input.error(ErrorKind::Malformed { form: FORM }),
        ));
    }
    let mut batch = body(after);
    batch.raw |= raw;
    batch.name = name.words();
    Ok(batch)
}

/// Where the name of the batch ends: at the line's end, a colon, a comma, the first amount, or the
/// first clause of the body.
fn head(input: Tokens<'_>) -> (Tokens<'_>, Tokens<'_>) {
    let end = input
        .find(|token| {
            token.kind == Kind::Newline || matches!(token.kind, Kind::Symbol(':' | ',' | ';'))
        })
        .unwrap_or(input.len());
    let own_line = input
        .get(end)
        .is_none_or(|token| !token.is(',') && !token.is(';'));
    let mut cut = end;
    for at in 0..end.min(16) {
        let here = input.range(at, input.len());
        let digits = matches!(input.slice[at].kind, Kind::Number(_) | Kind::Unreadable);
        if digits && at == 0 && own_line && end < input.len() && !has_unit(here) {
            continue;
        }
        let joined = matches!(here.norm(0), "with" | "from" | "using" | "of")
            && at > 0
            && may_begin(here.after(1));
        if digits && !(at > 0 && input.norm(at - 1) == "ndb") || joined {
            cut = at;
            break;
        }
        if at > 0 && begins_body(here, end - at) {
            cut = at;
            break;
        }
    }
    let joined =
        usize::from(cut < end && matches!(input.norm(cut), "with" | "from" | "using" | "of"));
    (input.range(0, cut), input.after(cut + joined))
}

fn has_unit(input: Tokens<'_>) -> bool {
    crate::lang::unit::unit(input.after(1)).is_ok()
}

/// A weighing, a place or a day that takes the rest of the head.
fn begins_body(input: Tokens<'_>, head_length: usize) -> bool {
    let head = input.range(0, head_length.min(input.len()));
    let placed = matches!(input.norm(0), "in" | "into" | "to") && place(head).is_some();
    placed
        || clause(input).is_ok()
        || (matches!(input.norm(0), "made" | "cooked") && made(head).is_some())
}

fn without_raw(head: Tokens<'_>) -> (Tokens<'_>, bool) {
    let head = head.trimmed();
    let is_raw = |token: Option<&Token>| token.is_some_and(|token| token.norm() == "raw");
    let last = head.len().saturating_sub(1);
    if head.len() > 1 && is_raw(head.first()) {
        return (head.after(1), true);
    }
    if head.len() > 1 && is_raw(head.last()) {
        return (head.range(0, last), true);
    }
    if head.len() > 3 && head.slice[last].is(')') && is_raw(head.get(last - 1)) {
        return (head.range(0, last - 2), true);
    }
    (head, false)
}

/// Ingredients, weighing, place and what else a batch may say.
pub fn body(input: Tokens<'_>) -> NewBatch {
    let lines = input
        .trimmed()
        .slice
        .iter()
        .filter(|token| token.kind == Kind::Newline)
        .count();
    let mut reader = Body {
        batch: NewBatch::default(),
        part: None,
        inline_part: None,
        many_lines: lines > 0,
    };
    let mut rest = input;
    while !rest.is_empty() {
        rest = reader.step(rest);
    }
    reader.batch
}

struct Body {
    batch: NewBatch,
    /// The heading that lines stand under.
    part: Option<String>,
    /// A heading with its ingredients beside it, good to the end of the line.
    inline_part: Option<String>,
    many_lines: bool,
}

impl Body {
    /// Read one part; gives the tokens after it.
    fn step<'a>(&mut self, input: Tokens<'a>) -> Tokens<'a> {
        let first = &input.slice[0];
        if first.kind == Kind::Newline || first.is(';') {
            self.inline_part = None;
            return input.take_one();
        }
        if matches!(
            first.kind,
            Kind::Symbol(',' | '.' | '+' | '&' | '-' | '!' | ':' | ')')
        ) || (first.norm() == "and" && input.len() > 1)
        {
            return input.take_one();
        }
        if let Some(rest) = self.weighing(input) {
            return rest;
        }
        if let Some(rest) = self.heading(input) {
            return rest;
        }
        let end = part_end(input);
        let part = input.range(0, end);
        if self.side_clause(part.trimmed()) {
            return input.after(end);
        }
        let end = self.ingredient_end(input, end);
        let part = self.inline_part.clone().or_else(|| self.part.clone());
        for piece in and_pieces(input.range(0, end)) {
            self.batch.lines.push(line(piece, part.clone()));
        }
        input.after(end)
    }

    fn weighing<'a>(&mut self, input: Tokens<'a>) -> Option<Tokens<'a>> {
        if self.batch.weighing.is_some() {
            return None;
        }
        match clause(input) {
            Ok((rest, weighing)) => {
                self.batch.weighing = Some(weighing);
                self.part = None;
                self.inline_part = None;
                Some(rest)
            }
            Err(Err::Failure(error)) => {
                let end = line_end(input);
                let said = input.range(0, end);
                self.batch.lines.push(IngredientLine {
                    text: said.words().text,
                    span: said.span(),
                    part: None,
                    content: LineContent::Unclear(error),
                });
                Some(input.after(end))
            }
            Err(_) => None,
        }
    }

    fn heading<'a>(&mut self, input: Tokens<'a>) -> Option<Tokens<'a>> {
        let near = &input.slice[..input.len().min(6)];
        if !near.iter().any(|token| token.is(':')) && input.norm(0) != "for" {
            return None;
        }
        let line = input.range(0, line_end(input));
        let colon = line.slice.iter().take(6).position(|token| token.is(':'));
        let (name, after) = if let Some(colon) = colon {
            (line.range(0, colon), line.after(colon + 1))
        } else if line.norm(0) == "for"
            && line.norm(1) == "the"
            && line.is_wordy()
            && line.len() <= 5
        {
            (line, line.after(line.len()))
        } else {
            return None;
        };
        let name = without_for(name);
        if !name.is_wordy() || name.len() > 4 {
            return None;
        }
        let alone = after.trimmed().is_empty();
        let listed = name.last().is_some_and(|token| parts().has(token.norm()));
        let end = part_end(after);
        let one_amount = item::whole_amount(after.range(0, end).trimmed()).is_ok();
        if !alone && (one_amount || !listed) {
            return None;
        }
        let words = name.words().text.to_lowercase();
        let main = matches!(
            words.as_str(),
            "main" | "rest" | "the rest" | "main part" | "everything else" | "ingredients"
        );
        let part = (!main).then_some(words);
        if alone {
            self.part = part;
        } else {
            self.inline_part = part;
        }
        let taken = name_to_colon(input, after);
        Some(input.after(taken))
    }

    /// A place, a day, "raw", or something poured away.
    fn side_clause(&mut self, part: Tokens<'_>) -> bool {
        if let Some(place) = place(part) {
            self.batch.place = Some(place);
            return true;
        }
        if let Some(day) = made(part) {
            self.batch.made = Some(day);
            return true;
        }
        if part.len() <= 3
            && (matches!(part.norm(0), "raw" | "uncooked") && part.len() == 1
                || (matches!(part.norm(0), "not" | "no") && part.norm(1).starts_with("cook")))
        {
            self.batch.raw = true;
            return true;
        }
        if let Ok((_, (poured, None))) = pour_off::clause(part) {
            self.batch.poured.push(poured);
            return true;
        }
        false
    }

    /// An ingredient goes on over commas: preparation, or the same amount in another measure.
    fn ingredient_end(&self, input: Tokens<'_>, end: usize) -> usize {
        let mut end = end;
        while input.get(end).is_some_and(|token| token.is(',')) {
            let next = input.after(end + 1);
            let next_end = end + 1 + part_end(next);
            let part = input.range(end + 1, next_end).trimmed();
            let says_more = name::is_preparation(part)
                || (self.many_lines && is_comment(part))
                || (item::whole_amount(part).is_ok()
                    && input.range(0, end).has_number()
                    && part.has_number());
            let clause = place(part).is_some() || made(part).is_some() || clause(next).is_ok();
            if !says_more || clause || part.is_empty() {
                break;
            }
            end = next_end;
        }
        end
    }
}

/// On a line of its own, what follows a comma and has no amount is about the same ingredient.
fn is_comment(part: Tokens<'_>) -> bool {
    !part.has_number() && !may_begin(part)
}

fn name_to_colon<'a>(input: Tokens<'a>, after: Tokens<'a>) -> usize {
    let line = line_end(input);
    line - after.len()
}

fn without_for(name: Tokens<'_>) -> Tokens<'_> {
    let skip = usize::from(name.norm(0) == "for");
    let skip = skip + usize::from(name.norm(skip) == "the");
    name.after(skip)
}

/// Up to the end of the line.
fn line_end(input: Tokens<'_>) -> usize {
    input
        .find(|token| token.kind == Kind::Newline || token.is(';'))
        .unwrap_or(input.len())
}

/// Up to the next separator outside parentheses.
fn part_end(input: Tokens<'_>) -> usize {
    let mut depth = 0_i32;
    for (at, token) in input.slice.iter().enumerate() {
        match token.kind {
            Kind::Newline => return at,
            Kind::Symbol('(') => depth += 1,
            Kind::Symbol(')') => depth -= 1,
            Kind::Symbol(',' | ';') if depth <= 0 => return at,
            Kind::Symbol('.')
                if depth <= 0
                    && input.get(at + 1).is_none_or(|next| next.spaced)
                    && !token.spaced
                    && !abbreviates(input, at) =>
            {
                return at;
            }
            _ => {}
        }
    }
    input.len()
}

/// The full stop of "2 tbsp. oil" ends no sentence.
fn abbreviates(input: Tokens<'_>, at: usize) -> bool {
    at >= 2
        && input.slice[at - 2].is_numeric()
        && crate::lang::unit::unit(input.range(at - 1, at)).is_ok()
}

/// "500 g lentils and 2 onions" is two ingredients: cut before "and" with a number after it.
fn and_pieces(input: Tokens<'_>) -> Vec<Tokens<'_>> {
    let mut out = Vec::new();
    let mut from = 0;
    let mut named = false;
    for at in 0..input.len() {
        let token = &input.slice[at];
        let joins =
            token.norm() == "and" || token.is('&') || token.is('+') || token.norm() == "plus";
        let numbered = input
            .get(at + 1)
            .is_some_and(|token| matches!(token.kind, Kind::Number(_)))
            || matches!(input.norm(at + 1), "a" | "an" | "half" | "some");
        let before = input.range(from, at);
        if joins
            && numbered
            && named
            && before.len() <= 40
            && before.has_number()
            && is_named(before)
        {
            out.push(before);
            from = at + 1;
        }
        named |= matches!(token.kind, Kind::Word(_));
    }
    out.push(input.range(from, input.len()));
    out
}

fn is_named(input: Tokens<'_>) -> bool {
    item::ingredient(input).is_ok_and(|named| named.amount.is_some())
}

/// One ingredient line; what cannot be read is kept as unclear.
pub fn line(input: Tokens<'_>, part: Option<String>) -> IngredientLine {
    let input = input.trimmed_front();
    let content = match item::ingredient(input) {
        Ok(named) if named.amount.is_none() && named.name.text.len() > 60 => {
            LineContent::Unclear(input.error(ErrorKind::NotUnderstood))
        }
        Ok(named) => unknown_unit(&named, input).map_or_else(
            || LineContent::Ingredient {
                amount: named.amount.clone(),
                name: named.name.clone(),
            },
            LineContent::Unclear,
        ),
        Err(error) => LineContent::Unclear(error),
    };
    IngredientLine {
        text: input.words().text,
        span: input.span(),
        part,
        content,
    }
}

/// "12 quonks flour": a word that nobody knows stands where a unit should, before a food.
fn unknown_unit(named: &item::Named, input: Tokens<'_>) -> Option<Error> {
    use crate::lang::lexicon::{describes, is_food, is_food_word};
    use crate::lang::syntax::Amount;
    let Some(Amount::Bare(_)) = named.amount else {
        return None;
    };
    let number_at = input.find(Token::is_numeric)?;
    let words: Vec<&str> = input.slice[number_at + 1..]
        .iter()
        .map(Token::norm)
        .collect();
    let (&first, rest) = words.split_first()?;
    let food = rest.strip_prefix(&["of"]).unwrap_or(rest);
    let odd = first.len() > 1
        && !is_food_word(first)
        && !describes(first)
        && !input.vocabulary.has_word(first);
    let glued = !input.slice[number_at + 1].spaced;
    let plural = first.ends_with('s') || glued || rest.len() > food.len();
    (odd && plural && is_food(food)).then(|| {
        let here = input.range(number_at + 1, number_at + 2);
        here.error(ErrorKind::UnknownUnit(here.words().text))
    })
}

/// A weighing clause: led by "cooked", "net", ..., or saying itself that it is one.
pub fn clause(input: Tokens<'_>) -> Read<'_, Weighing> {
    let led = key_phrase("weigh", input);
    let (start, has_lead) = match led {
        Ok((rest, ())) => (rest.without_lead(), true),
        Err(_) => (input, false),
    };
    let (rest, weighing) = weighing(start).map_err(|error| match error {
        Err::Failure(error) if !has_lead => Err::Error(error),
        other => other,
    })?;
    let said = start.range(0, start.len() - rest.len());
    let says_so = weighing.gross
        || said.slice.iter().any(|token| {
            matches!(
                token.norm(),
                "net" | "gross" | "cooked" | "total" | "finished" | "altogether"
            )
        });
    let ends = rest.is_empty()
        || matches!(
            rest.slice[0].kind,
            Kind::Newline | Kind::Symbol(',' | ';' | '.' | '!')
        )
        || place(rest.range(0, part_end(rest))).is_some()
        || made(rest.range(0, part_end(rest))).is_some();
    if (has_lead || says_so) && ends {
        Ok((rest, weighing))
    } else {
        input.no()
    }
}

/// A place, and nothing else.
pub fn place(input: Tokens<'_>) -> Option<Words> {
    let mut rest = input.trimmed();
    while matches!(
        rest.norm(0),
        "in" | "into"
            | "to"
            | "the"
            | "put"
            | "all"
            | "straight"
            | "goes"
            | "gone"
            | "went"
            | "now"
            | "it"
            | "is"
            | "stored"
            | "kept"
            | "our"
    ) || rest.first().is_some_and(|token| token.is('→'))
    {
        rest = rest.take_one();
    }
    if rest.is_empty() || rest.len() > 6 {
        return None;
    }
    let words: Vec<&str> = rest.slice.iter().map(Token::norm).collect();
    let length = (1..=words.len())
        .rev()
        .find(|&length| rest.vocabulary.is(Sense::Place, &words[..length]))
        .or_else(|| places().longest(rest.slice).map(|(length, _)| length))?;
    let idle = words[length..]
        .iter()
        .all(|word| matches!(*word, "please" | "now" | "today" | ""));
    idle.then(|| rest.range(0, length).words())
}

/// "made yesterday", "cooked on Sunday", "yesterday".
fn made(input: Tokens<'_>) -> Option<Day> {
    let (rest, _) = opt(word(&["made", "cooked", "prepared", "date", "dated"]))
        .parse(input)
        .ok()?;
    let (rest, _) = opt(symbol(':')).parse(rest).ok()?;
    let (rest, day) = day(rest).ok()?;
    rest.trimmed().is_empty().then_some(day)
}
