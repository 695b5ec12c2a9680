//! What is kept ready, what a pot holds, and what there is only so much of.

use super::{before, is_phrase, phrase, whole};
use crate::lang::amount::{self, Stands};
use crate::lang::name;
use crate::lang::number::number;
use crate::lang::syntax::{Amount, Command, Limit, Prep, Words};
use crate::lang::tokens::{Read, Tokens};

/// No kitchen has more of anything.
const COUNT_MAX: f64 = 50.0;
/// Of less nobody keeps a level.
const LEAST_GRAMS: f64 = 20.0;
const NAME_WORDS_MAX: usize = 4;
const LITRE_GRAMS: f64 = 1000.0;

pub fn read_par(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, |said| no_par(said).or_else(|| par(said)))
}

pub fn read_pot(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, pot)
}

pub fn read_limit(input: Tokens<'_>) -> Read<'_, Command> {
    whole(input, limit)
}

/// "keep 800 g dal ready", "par level 800 g for dal", "dal par 800"
fn par(said: Tokens<'_>) -> Option<Prep> {
    let ready = || {
        let told = before("ready", phrase("keep", said)?)?;
        of_dish(told).or_else(|| of_unknown(told))
    };
    let level = || {
        let levels = ["level", "loose level"].into_iter();
        levels
            .filter_map(|part| phrase(part, said))
            .find_map(of_dish)
    };
    let behind = || {
        let par = |at: usize| phrase("par", said.after(at));
        let (at, rest) = (1..said.len()).find_map(|at| Some((at, par(at)?)))?;
        let (rest, grams) = amount::grams(unmarked(rest)).ok()?;
        let dish = name::of_batch(said.range(0, at))?;
        rest.trimmed().is_empty().then_some((dish, grams))
    };
    let (dish, grams) = ready().or_else(level).or_else(behind)?;
    let grams = Some(grams);
    Some(Prep::Par { dish, grams })
}

/// Without the colon that it begins with.
fn unmarked(said: Tokens<'_>) -> Tokens<'_> {
    said.after(usize::from(said.first().is_some_and(|token| token.is(':'))))
}

fn no_par(said: Tokens<'_>) -> Option<Prep> {
    let dish = name::of_batch(phrase("no par", said)?)?;
    Some(Prep::Par { dish, grams: None })
}

/// A mass and a dish, in either order.
fn of_dish(said: Tokens<'_>) -> Option<(Words, f64)> {
    let said = unmarked(said);
    if let Ok((rest, grams)) = amount::grams(said) {
        let named = rest.after(usize::from(rest.norm(0) == "for"));
        return Some((name::of_batch(named)?, grams));
    }
    let at = said.find(|token| token.is_numeric()).filter(|at| *at > 0)?;
    let (rest, grams) = amount::grams(said.after(at)).ok()?;
    let dish = name::of_batch(said.range(0, at))?;
    rest.trimmed().is_empty().then_some((dish, grams))
}

/// So much of something that nobody has cooked yet, with its unit: "keep 2 seats ready" is none.
fn of_unknown(said: Tokens<'_>) -> Option<(Words, f64)> {
    let (rest, grams) = amount::grams(said).ok()?;
    let name = name::bare(rest);
    let fits = said.len() - rest.len() > 1 && name.is_wordy() && name.len() <= NAME_WORDS_MAX;
    (fits && grams >= LEAST_GRAMS).then(|| (name.words(), grams))
}

/// "big pot holds 4 kg", "dal pots of 3 kg", "max 3 l pot"
fn pot(said: Tokens<'_>) -> Option<Prep> {
    // "max 2 pots" counts them.
    let told = phrase("pot limit", said).filter(|rest| !rest.norm(1).starts_with("pot"));
    if let Some((rest, grams)) = told.and_then(filling)
        && is_phrase("pot behind", rest)
    {
        return Some(Prep::PotHolds { dish: None, grams });
    }
    let (at, (rest, grams)) = (1..said.len()).find_map(|at| {
        let led = phrase("holds", said.after(at))?;
        Some((at, filling(led)?))
    })?;
    // "my pot only fits 1.5 kg of dal"
    let rest = rest.trimmed();
    let of = rest.after(usize::from(rest.norm(0) == "of"));
    let dish = match rest.is_empty() {
        true => None,
        false => Some(name::of_batch(of).filter(|_| !of.is_empty())?),
    };
    let vessel = said.range(0, at).trimmed();
    // "the pot holds 4 litres" is told of any pot, also of one with flowers in it.
    let any = matches!(
        (vessel.norm(0), vessel.len()),
        ("pot" | "pots", 1) | ("the" | "a" | "one", 2)
    );
    if any && phrase("holds", said.after(at)).is_some_and(|rest| amount::grams(rest).is_err()) {
        return None;
    }
    if is_phrase("pot", vessel) {
        return Some(Prep::PotHolds { dish, grams });
    }
    if dish.is_some() {
        return None;
    }
    let dish = Some(name::of_batch(before("pot behind", vessel)?)?);
    Some(Prep::PotHolds { dish, grams })
}

/// What fills a pot, by weight or in litres: a litre of what is cooked weighs about a kilogram.
fn filling(said: Tokens<'_>) -> Option<(Tokens<'_>, f64)> {
    if let Ok(grams) = amount::grams(said) {
        return Some(grams);
    }
    let (rest, amount) = amount::amount(said, Stands::AfterName).ok()?;
    let Amount::Volume { count, unit, .. } = amount else {
        return None;
    };
    let litres = unit.litres()? * count;
    (litres > 0.0).then_some((rest, litres * LITRE_GRAMS))
}

/// "4 burners", "we have 2 trays", "at most 3 pots a day", "we only have 2 pots"
fn limit(said: Tokens<'_>) -> Option<Prep> {
    const LIMITS: [(&str, Limit); 4] = [
        ("burners", Limit::Burners),
        ("trays", Limit::Trays),
        ("pots a day", Limit::PotsADay),
        ("dishes", Limit::PotsADay),
    ];
    let kind = |rest: Tokens<'_>| LIMITS.into_iter().find(|(part, _)| is_phrase(part, rest));
    if let Some(rest) = phrase("no limit", said) {
        let (_, what) = kind(rest)?;
        return Some(Prep::Limit { what, count: None });
    }
    let most = phrase("at most", said);
    let rest = most.or_else(|| phrase("there is", said)).unwrap_or(said);
    // "we have 2 pots" may tell what stands on the shelf.
    let only = said
        .slice
        .iter()
        .any(|token| matches!(token.norm(), "only" | "just"));
    let most = most.or(only.then_some(rest));
    // "burners: 3"
    let titled = (1..rest.len()).find_map(|at| {
        let (_, what) =
            kind(rest.range(0, at)).filter(|_| rest.get(at).is_some_and(|mark| mark.is(':')))?;
        let (behind, count) = number(rest.after(at + 1)).ok()?;
        behind.trimmed().is_empty().then_some((what, count))
    });
    let (what, count) = match titled {
        Some(titled) => titled,
        None => {
            let (rest, count) = number(rest).ok()?;
            (kind(without_oven(rest.trimmed()))?.1, count)
        }
    };
    let whole = count.value.fract() == 0.0 && (0.0..=COUNT_MAX).contains(&count.value);
    // "3 pots a day" may tell what somebody drinks.
    let told = what != Limit::PotsADay || most.is_some();
    let count = Some(count.value as u32);
    (whole && told).then_some(Prep::Limit { what, count })
}

/// "burners and 1 oven": trays are what counts of that.
fn without_oven(said: Tokens<'_>) -> Tokens<'_> {
    let oven = |at: &usize| {
        let counted = number(said.after(at + 1)).map_or(said.after(at + 1), |(rest, _)| rest);
        said.norm(*at) == "and" && counted.len() == 1 && matches!(counted.norm(0), "oven" | "ovens")
    };
    match (1..said.len()).find(oven) {
        Some(at) => said.range(0, at),
        None => said,
    }
}

#[cfg(test)]
mod tests {
    use crate::lang::spelled::{is_no, means, surely_means};
    use crate::lang::syntax::Command;
    use crate::lang::{Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        Vocabulary::new()
            .with(Sense::Batch, "lentil dal")
            .with(Sense::Batch, "rice")
    }

    #[track_caller]
    fn sure(text: &str, printed: &str) {
        surely_means(text, &kitchen(), printed);
    }

    #[test]
    fn what_is_kept_ready() {
        sure("keep 800 g dal ready", "keep 800 g dal ready");
        sure("always keep 800 dal in stock", "keep 800 g dal ready");
        sure("par dal 800", "keep 800 g dal ready");
        sure("par for the dal: 800 g", "keep 800 g dal ready");
        sure("dal par level is 800 g", "keep 800 g dal ready");
        for text in [
            "par level 500 g for dal",
            "min level for dal 500 g",
            "stock level for the dal: 500 g",
            "keep at least 500 g of dal",
            "always have 500 g dal",
            "dal minimum level 500",
        ] {
            sure(text, "keep 500 g dal ready");
        }
        // What is kept may be kept for somebody.
        let kept = "keep 500 g of dal";
        assert!(!means(kept, &kitchen(), "keep 500 g dal ready"));
        sure("no par for dal", "no par for dal");
        sure("keep 800 g chilli ready", "keep 800 g chilli ready");
    }

    #[test]
    fn what_a_pot_holds() {
        sure("big pot holds 4 kg", "pot holds 4000 g");
        sure("our biggest pot takes 4 kg", "pot holds 4000 g");
        sure("our biggest pot holds 3 litres", "pot holds 3000 g");
        sure("big pot is 3 l", "pot holds 3000 g");
        sure("max 3 l pot", "pot holds 3000 g");
        sure("dal pots of 3 kg", "dal pot holds 3000 g");
        sure("my biggest pot takes 500 g dal", "dal pot holds 500 g");
        sure("my pot only fits 1.5 kg of dal", "dal pot holds 1500 g");
        sure("the dal pot holds 3 kg", "dal pot holds 3000 g");
    }

    #[test]
    fn what_there_is_only_so_much_of() {
        sure("we have 4 burners", "we have 4 burners");
        sure("we've only the one burner", "we have 1 burners");
        sure("we have 2 rings and an oven", "we have 2 burners");
        sure("the oven takes two trays", "we have 2 trays");
        sure("burners: 3", "we have 3 burners");
        sure("we have 2 burners and 1 oven", "we have 2 burners");
        sure("0 burners", "we have 0 burners");
        sure("at most 3 pots a day", "at most 3 pots a day");
        sure("no limit on pots a day", "no limit on pots a day");
        means("4 burners", &kitchen(), "we have 4 burners");
        for text in ["we only have 2 pots", "max 2 pots", "at most 2 dishes"] {
            means(text, &kitchen(), "at most 2 pots a day");
        }
    }

    #[test]
    fn talk_sets_nothing() {
        for text in [
            "keep the dal ready",
            "keep 800 g dal in the freezer",
            "keep 2 seats ready",
            "the pot holds no water",
            "he drinks 3 pots a day",
            "4 burners",
            "we have 4 bananas",
            "do we have 4 burners?",
            "we have 2 pots",
            "we only have 2 pots of yoghurt",
            "if the pot holds 4 kg",
        ] {
            is_no(text, &kitchen(), |command| {
                matches!(command, Command::Prep(_))
            });
        }
    }
}
