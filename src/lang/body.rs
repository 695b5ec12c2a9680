//! The body of a batch: its lines, headings and clauses, on many lines or one. Each part is read for
//! itself, so that one which cannot be read never costs the rest.

use nom::Err;

use super::amount::{self, Of, is_packed, may_begin};
use super::came_out;
use super::clause::{clause, leads, leads_by_heat, made, part_end, place};
use super::command::{pour_off, prep};
use super::item;
use super::line::has_amount;
use super::name;
use super::pieces::{counted, is_ingredient};
use super::recipe;
use super::run::ingredients;
use super::shared;
use super::syntax::{
    Amount, Error, ErrorKind, IngredientLine, LineContent, NewBatch, Tare, Weighing,
};
use super::token::Kind;
use super::tokens::Tokens;
use super::weighing::{contrary, tare_alone};
use super::words::parts;

/// Ingredients, weighing, place and what else a batch of some dish may say.
pub fn body<'a>(input: Tokens<'a>, dish: Tokens<'a>) -> NewBatch {
    let lines = input
        .trimmed()
        .slice
        .iter()
        .filter(|token| token.kind == Kind::Newline)
        .count();
    let mut reader = Body {
        batch: NewBatch::default(),
        dish,
        part: None,
        inline_part: None,
        many_lines: lines > 0,
        in_method: false,
        behind: false,
        fresh: false,
        pieces_last: false,
        tares: Vec::new(),
    };
    let mut rest = input;
    while !rest.is_empty() {
        rest = reader.step(rest);
    }
    reader.finished()
}

/// So far into a line without separators a weighing is looked for.
const RUN_TOKENS_MAX: usize = 60;

/// A label before a second weight is no longer than this: "when drained it weighed".
const OWN_WEIGHT_WORDS_MAX: usize = 5;
/// No tin or jar of a shop holds more; beside other things on one line, more is that of the pot.
const PACK_GRAMS_MAX: f64 = 3000.0;
const PACK_GRAMS_USUAL: f64 = 1000.0;
/// A bare number behind a count of pieces is their weight from here on.
const PIECES_GRAMS_MIN: f64 = 50.0;

struct Body<'a> {
    batch: NewBatch,
    /// What it is called.
    dish: Tokens<'a>,
    /// The heading that lines stand under.
    part: Option<String>,
    /// A heading with its ingredients beside it, good to the end of the line.
    inline_part: Option<String>,
    many_lines: bool,
    /// Under the heading of a method: sentences, no ingredients.
    in_method: bool,
    /// Something stands before this on its line.
    behind: bool,
    /// A sentence or a line has just ended.
    fresh: bool,
    /// The part before this told how many pieces it is.
    pieces_last: bool,
    /// What the empty pot weighed, said on its own.
    tares: Vec<(Tare, IngredientLine)>,
}

impl<'a> Body<'a> {
    /// Read one part; gives the tokens after it.
    fn step(&mut self, input: Tokens<'a>) -> Tokens<'a> {
        let first = &input.slice[0];
        let fresh = std::mem::replace(&mut self.fresh, false);
        self.fresh = first.kind == Kind::Newline || first.is('.');
        if first.kind == Kind::Newline || first.is(';') {
            self.inline_part = None;
            self.behind = false;
            return input.take_one();
        }
        if matches!(
            first.kind,
            Kind::Symbol(',' | '.' | '+' | '&' | '-' | '!' | ':' | ')' | '→')
        ) || (first.norm() == "and" && input.len() > 1)
        {
            return input.take_one();
        }
        if let Some(rest) = self.pieces(input).or_else(|| self.weighing(input)) {
            return rest;
        }
        if fresh && let Some(rest) = self.whole(input) {
            return rest;
        }
        if let Some(rest) = self.raw(input) {
            return rest;
        }
        // "made on Sunday: 500 g lentils"
        let colon = input.slice.iter().take(6).position(|token| token.is(':'));
        if let Some(colon) = colon.filter(|&colon| self.side_clause(input.range(0, colon))) {
            return input.after(colon + 1);
        }
        if let Some(rest) = self.heading(input) {
            return rest;
        }
        self.behind = true;
        let end = part_end(input);
        let part = input.range(0, end);
        if let Some(step) = prep::timed_step(part.trimmed()).filter(|_| !self.in_method) {
            self.batch.steps.push(step);
            return input.after(end);
        }
        let told = self.side_clause(part.trimmed()) || self.in_method || recipe::is_aside(part);
        if told {
            return input.after(end);
        }
        let end = shared::end(input, self.ingredient_end(input, end));
        let part = self.inline_part.clone().or_else(|| self.part.clone());
        let end = self.clause_within(input, end);
        for piece in ingredients(input.range(0, end)) {
            let piece = name::without_way(piece);
            self.batch.lines.extend(shared::lines(piece, part.as_ref()));
        }
        input.after(end)
    }

    /// A pot that was weighed before it was filled is the tare of the weighing that has none.
    fn finished(mut self) -> NewBatch {
        for (tare, line) in self.tares {
            match self.batch.weighings.as_mut_slice() {
                [weighing] if weighing.net => {}
                [weighing] if weighing.tares.is_empty() => {
                    weighing.container = None;
                    weighing.tares.push(tare);
                }
                _ => self.batch.lines.push(line),
            }
        }
        self.batch
    }

    /// "14 meatballs, 610 g", "makes 14": how many pieces it is, and what they weigh.
    fn pieces(&mut self, input: Tokens<'a>) -> Option<Tokens<'a>> {
        let end = part_end(input);
        let part = input.range(0, end).trimmed();
        if self.batch.pieces.is_some() {
            // What stands alone behind the pieces is what they weigh.
            let behind = self.batch.weighings.is_empty() && self.pieces_last;
            self.pieces_last = false;
            let (rest, grams) = amount::grams(part).ok().filter(|_| behind)?;
            if !rest.trimmed().is_empty() || grams <= PIECES_GRAMS_MIN {
                return None;
            }
            self.batch.weighings.push(Weighing::net(grams, part.span()));
            return Some(input.after(end));
        }
        let counted = counted(part, self.dish)?;
        // "12 eggs" of boiled eggs are what went in, and so are the 3 eggs of pancakes.
        let first = self.many_lines && !self.batch.lines.iter().any(has_amount);
        let food = counted.is_food() || counted.another;
        let went_in = food || is_ingredient(self.dish) || first;
        if !counted.told && went_in {
            return None;
        }
        self.batch.pieces = Some(counted.pieces);
        self.batch.weighings.extend(counted.weighing);
        self.pieces_last = true;
        Some(input.after(end))
    }

    /// "300 carrots, 1500 water. 2300 g": what stands alone behind all that went in is what came out.
    fn whole(&mut self, input: Tokens<'a>) -> Option<Tokens<'a>> {
        let end = part_end(input);
        let last = !input.after(end).has_number() && self.batch.weighings.is_empty();
        let out = came_out::weighing(input.range(0, end).trimmed(), &self.batch.lines);
        self.batch.weighings.push(out.filter(|_| last)?);
        Some(input.after(end))
    }

    /// "raw 810": nothing is cooked, and all of it weighs so much.
    fn raw(&mut self, input: Tokens<'a>) -> Option<Tokens<'a>> {
        let end = part_end(input);
        let part = input.range(0, end).trimmed();
        let alone = self.batch.weighings.is_empty() && part.norm(0) == "raw";
        let (rest, grams) = amount::grams(part.after(1).without_lead()).ok()?;
        if !alone || !rest.trimmed().is_empty() {
            return None;
        }
        self.batch.raw = true;
        self.batch.weighings.push(Weighing::net(grams, part.span()));
        Some(input.after(end))
    }

    fn weighing(&mut self, input: Tokens<'a>) -> Option<Tokens<'a>> {
        let part = input.range(0, part_end(input));
        if recipe::is_aside(part) || prep::timed_step(part.trimmed()).is_some() {
            return None;
        }
        // "1 kg thighs, roasted 720": of the pot, or of the thighs?
        if self.many_lines && self.behind && leads_by_heat(input) && clause(input).is_ok() {
            let part = input.range(0, part_end(input));
            let error = part.error(ErrorKind::LeftOver(part.words().text));
            self.batch.lines.push(unclear(part, error));
            return Some(input.after(part.len()));
        }
        if let Some((rest, weighings)) = contrary(input) {
            self.batch.weighings.extend(weighings);
            return Some(rest);
        }
        match clause(input) {
            Ok((rest, cooked)) => {
                if !self.batch.weighings.contains(&cooked.weighing) {
                    self.batch.weighings.push(cooked.weighing);
                }
                self.batch.places.extend(cooked.places);
                self.part = None;
                self.inline_part = None;
                Some(rest)
            }
            Err(Err::Failure(error)) => {
                let end = line_end(input);
                self.batch.lines.push(unclear(input.range(0, end), error));
                Some(input.after(end))
            }
            Err(_) => None,
        }
    }

    fn heading(&mut self, input: Tokens<'a>) -> Option<Tokens<'a>> {
        // "Method", alone on its line
        let end = line_end(input);
        if self.many_lines && !self.behind && recipe::is_method(input.range(0, end).trimmed()) {
            self.in_method = true;
            return Some(input.after(end));
        }
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
        self.in_method = alone && recipe::is_method(name);
        let listed = name.last().is_some_and(|token| parts().holds(token));
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
            if !self.batch.places.contains(&place) {
                self.batch.places.push(place);
            }
            return true;
        }
        if let Some(tare) = tare_alone(part) {
            let alone = part.error(ErrorKind::LeftOver(part.words().text));
            self.tares.push((tare, unclear(part, alone)));
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

    /// "500 g rice cooked 300": the weighing begins where its verb stands.
    fn clause_within(&self, input: Tokens<'_>, end: usize) -> usize {
        (1..end.min(RUN_TOKENS_MAX))
            .find(|&at| {
                let here = input.after(at);
                let may_lead = here.norm(0) == "in" || leads(here);
                let part_end = at + part_end(here);
                let own = || {
                    let from = (1..=at).rev().take(OWN_WEIGHT_WORDS_MAX);
                    let mut parts =
                        from.map(|from| (input.range(0, from), input.range(from, part_end)));
                    parts.any(|(said, part)| self.is_own_weight(said, part))
                };
                may_lead && !own() && input.range(0, at).has_number() && clause(here).is_ok()
            })
            .unwrap_or(end)
    }

    /// "1 tin beans, drained weight 240 g", "1 jar olives, net 340 g": what follows an ingredient weighs that, and
    /// not the whole pot.
    fn is_own_weight(&self, said: Tokens<'_>, part: Tokens<'_>) -> bool {
        let Some(own) = item::own_weight_alone(part.trimmed()) else {
            return false;
        };
        let amount = item::ingredient(said).ok().and_then(|named| named.amount);
        let packs = amount.as_ref().and_then(packs);
        let inside = matches!(own.of, Of::Inside | Of::InsideEach);
        match (packs, amount) {
            (Some(packs), _) => {
                let each_max = match self.many_lines {
                    true => PACK_GRAMS_MAX,
                    false => PACK_GRAMS_USUAL,
                };
                own.grams <= packs * each_max
            }
            (None, Some(Amount::Mass(grams))) if inside => self.many_lines || own.grams < grams,
            (None, Some(_)) => self.many_lines && (inside || own.of == Of::Each),
            (None, None) => false,
        }
    }

    /// An ingredient goes on over commas: preparation, or the same amount in another measure.
    fn ingredient_end(&self, input: Tokens<'_>, end: usize) -> usize {
        let mut end = end;
        while input.get(end).is_some_and(|token| token.is(',')) {
            let next = input.after(end + 1);
            let next_end = end + 1 + part_end(next);
            let part = input.range(end + 1, next_end).trimmed();
            let vague = matches!(item::whole_amount(part), Ok((_, Amount::Uncounted(_))));
            let has_amount = input.range(0, end).has_number();
            let own = self.is_own_weight(input.range(0, end), part);
            let says_more = own
                || name::is_preparation(part)
                || prepared_with_weight(part)
                || !has_amount && item::whole_amount(part).is_ok() && part.has_number()
                || (vague && !input.range(0, end).has_number())
                || (self.many_lines && is_comment(part))
                || (item::whole_amount(part).is_ok()
                    && input.range(0, end).has_number()
                    && part.has_number());
            let clause = place(part).is_some() || made(part).is_some() || clause(next).is_ok();
            let clause = clause && !own;
            if !says_more || clause || part.is_empty() {
                break;
            }
            end = next_end;
        }
        end
    }
}

/// How many packs it is counted in.
fn packs(amount: &Amount) -> Option<f64> {
    match amount {
        Amount::Weighed { said, .. } => packs(said),
        Amount::Pieces { count, .. } | Amount::Each { count, .. } if is_packed(amount) => {
            Some(*count)
        }
        _ => None,
    }
}

fn unclear(said: Tokens<'_>, error: Error) -> IngredientLine {
    IngredientLine {
        text: said.words().text,
        span: said.span(),
        part: None,
        content: LineContent::Unclear(error),
    }
}

/// "drained (240 g)", "chopped (150 g)"
fn prepared_with_weight(part: Tokens<'_>) -> bool {
    let Some(open) = part.find(|token| token.is('(')) else {
        return false;
    };
    let inside = part.range(
        open + 1,
        part.find(|token| token.is(')'))
            .unwrap_or(part.len())
            .max(open + 1),
    );
    name::is_preparation(part.range(0, open)) && inside.has_number()
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
