//! Food put elsewhere: "froze 600 of the dal", "thaw 400 chilli for tomorrow", "rest of the rice in the
//! fridge", "froze the dal in two bags, 700 and 640".
//!
//! ```text
//! move  := ["i" | "we"] verb items [kept] ["from" place] ["to" place | "," place] ["into" vessel] [bags] [when]
//!        | items "in" place [bags], of a share or with "the rest" | items "into" place
//! verb  := "froze" | "thaw" | "put" | "moved" | ... of data/moves.txt; who puts and moves tells the place
//! bags  := what each bag holds                                  bags.rs
//! kept  := how much stays where it is                           kept_back.rs
//! when  := what is said behind all that                         meant_for.rs
//! kind  := "like a fridge" | "not cold" behind the place
//! place := ["the"] (name of the household's | [word] phrase of data/places.txt)
//! ```
//! "put the rice in the fridge" is said to somebody: without an amount, only what was done is booked.

use crate::lang::bags::{Bags, bags, listed};
use crate::lang::command::meant_for::{
    for_when, on_a_day, to_thaw, without_idle, without_pack, without_please,
};
use crate::lang::command::moved_items::{is_whole, items, without_all_of_it};
use crate::lang::command::spoken_of;
use crate::lang::command::whither::{Places, listed_place};
use crate::lang::command::{kept_back, meant_for, moved_more, packing};
use crate::lang::number::number;
use crate::lang::place::without_kind;
use crate::lang::syntax::{Amount, Command, Destination, Item, Move, Words};
use crate::lang::token::Token;
use crate::lang::tokens::{Read, Tokens};
use crate::lang::words::moves;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    let said = packing::told_plainly(input.trimmed());
    let told = said.as_ref().map(|tokens| input.with_tokens(tokens));
    let moved = moved(input.trimmed(), false);
    let moved = moved.or_else(|| self::moved(told?, false));
    let Some(moved) = moved.or_else(|| moved_more::read(input)) else {
        return input.no();
    };
    if let Some(signed) = input.signed() {
        return signed.fail();
    }
    Ok((input.after(input.len()), Command::Move(moved)))
}

/// What is moved, from where to where; `stated`: where a dish stands is told, and not what was done.
pub fn moved(input: Tokens<'_>, stated: bool) -> Option<Move> {
    let input = without_lead(input);
    let (input, all) = without_all_of_it(input);
    let said = without_idle(without_please(input));
    let timed = for_when(said).len() < said.trimmed_end().len();
    let past = is_past(input.norm(0));
    let (body, day) = on_a_day(for_when(without_idle(without_please(input))), past);
    let (body, packed) = without_pack(body);
    let (body, heated) = meant_for::by_heat(body);
    let (body, thawing) = to_thaw(body);
    let (verb, rest) = match moves().longest(body.slice) {
        Some((_, "to thaw" | "packed so" | "thawing now")) | None if thawing => ("thaw", body),
        Some((_, "to thaw" | "packed so" | "thawing now")) | None => ("", body),
        Some((length, verb)) => (verb, body.after(length)),
    };
    let packed = packed || verb == "packed";
    let (rest, out) = moved_more::taken_out(body, rest, timed);
    let (rest, kept) = kept_back::told_behind(rest)?;
    let (rest, kind) = without_kind(rest);
    let numbers = rest.slice.iter().filter(|it| it.is_numeric()).count();
    // "two bags of dal, 300 each"
    let spelled = numbers == 1 && !rest.slice[0].is_numeric() && number(rest).is_ok();
    let bagged = numbers > 1 || spelled;
    let (rest, behind) = match verb {
        "" if !bagged => (rest, None),
        _ => listed_place(rest),
    };
    let (
        rest,
        Bags {
            parts_grams,
            bag_grams,
        },
    ) = bags(rest)?;
    // "dal for the freezer, 2 bags, 700 and 640"
    let packs = verb.is_empty() && !parts_grams.is_empty();
    let (rest, places) = Places::told(rest, if packs { "packed" } else { verb }, behind);
    // "chilli, 2 bags of 300 in the freezer"
    let (rest, parts_grams, bag_grams) = match parts_grams.is_empty() {
        true => {
            let (rest, bags) = bags(rest)?;
            (rest, bags.parts_grams, bags.bag_grams)
        }
        false => (rest, parts_grams, bag_grams),
    };
    let placed_nowhere = places.to.is_none() && places.from.is_none() && places.vessel.is_none();
    let out = out && placed_nowhere;
    let to = match out {
        true => Destination::Thawed,
        false => places.destination(verb, packed)?,
    };
    let (rest, parts_grams) = match listed(rest) {
        Some(read) if parts_grams.is_empty() && !verb.is_empty() => read,
        _ => (rest, parts_grams),
    };
    let (rest, kept) = match kept {
        None => kept_back::told_before(rest)?,
        kept => (rest, kept),
    };
    let whole = all || is_whole(rest);
    let told =
        !matches!(verb, "asked" | "carry") || whole || rest.has_number() || !parts_grams.is_empty();
    // What cannot be frozen for want of it is told so, where the verb says enough.
    let strange = matches!(verb, "freeze" | "thaw");
    let done = !matches!(verb, "" | "asked" | "carry");
    // "vac packed 2 bags, 700 and 640": of what is in hand.
    let in_hand = done && rest.is_empty() && !parts_grams.is_empty();
    let items = match spoken_of::item(rest).filter(|_| done && parts_grams.is_empty()) {
        Some(item) => vec![item],
        None if in_hand => vec![spoken_of::all(input)],
        None => items(rest, &parts_grams, strange)?,
    };
    let shared = |item: &Item| matches!(item.amount, Amount::Share(share) if share < 1.0);
    let resting = rest
        .slice
        .iter()
        .any(|token| matches!(token.norm(), "rest" | "remaining"));
    let placed = resting || items.iter().any(shared) || !parts_grams.is_empty();
    // "400 of the barley into the freezer": where it goes says that it goes; "all of the soup is in the freezer now".
    let since = whole && input.last().is_some_and(|last| last.norm() == "now");
    // "300 dal outta the freezer"
    let drawn = places.to.is_none() && places.from.is_some() && (whole || rest.has_number());
    let placed = placed
        || out && (whole || rest.has_number())
        || since
        || packed
        || drawn
        || places.led && (whole || rest.has_number());
    let holds = match verb {
        "" => placed,
        "asked" | "carry" => told || placed || kept.is_some(),
        "out" => drawn || placed && out,
        "stays" => false,
        _ => true,
    };
    let holds = holds || stated && matches!(verb, "" | "asked" | "carry" | "stays");
    // What the microwave thawed is warm, and stands out.
    let warm = heated && to == Destination::Thawed;
    let cold = || Some(Words::plain("freezer"));
    let from = places.from.or_else(|| cold().filter(|_| warm));
    let to = match warm {
        true => Destination::Place(Words::plain("counter")),
        false => to,
    };
    (holds && heated <= warm).then_some(Move {
        items,
        kept,
        to,
        from,
        vessel: places.vessel,
        parts_grams,
        bag_grams,
        kind,
        packed,
        day,
    })
}

/// Who did it, and what it goes on from.
pub fn without_lead(input: Tokens<'_>) -> Tokens<'_> {
    let lead = |token: &&Token| {
        let who = ["i", "we", "ive", "weve", "just", "have"];
        let goes_on = ["and", "also", "then", "ok", "right", "plus"];
        who.contains(&token.norm()) || goes_on.contains(&token.norm())
    };
    let mind = moves().longest_of(input.slice, "lead").unwrap_or(0);
    let input = input.after(mind);
    let input = input.after(usize::from(
        mind > 0 && input.first().is_some_and(|it| it.is(',')),
    ));
    let rest = input.after(input.slice.iter().take_while(lead).count());
    // "that 500 chilli back in the freezer"
    let that = matches!(rest.norm(0), "that" | "those");
    let told = that && rest.get(1).is_some_and(Token::is_numeric);
    rest.after(usize::from(told))
}

/// It begins with what was frozen or packed: nobody eats of that.
pub fn stows(input: Tokens<'_>) -> bool {
    let body = without_lead(input.trimmed());
    let stowed = moves().longest(body.slice);
    let stowed = stowed.is_some_and(|(_, key)| matches!(key, "freeze" | "packed"));
    let past = (0..3).any(|at| is_past(body.norm(at)) && moves().get(body.norm(at)).is_some());
    stowed && past
}

/// "froze", "moved": it has been done.
fn is_past(verb: &str) -> bool {
    verb.ends_with("ed") || matches!(verb, "froze" | "took" | "brought" | "stuck")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lang::spelled::{is_no, surely_means};
    use crate::lang::{Sense, Vocabulary};

    fn kitchen() -> Vocabulary {
        let mut words = Vocabulary::new();
        for batch in ["lentil dal", "brown rice", "beef chilli"] {
            words.add(Sense::Batch, batch);
        }
        words.add(Sense::Place, "garage freezer");
        words.add(Sense::Container, "glass jar");
        words.add(Sense::Person, "Ana");
        words
    }

    #[track_caller]
    fn moves(text: &str, printed: &str) {
        surely_means(text, &kitchen(), printed);
    }

    #[track_caller]
    fn is_no_move(text: &str) {
        is_no(text, &kitchen(), |it| matches!(it, Command::Move(_)));
    }

    #[test]
    fn many_ways_to_put_food_elsewhere() {
        moves("froze 600 of the dal", "move 600 dal to the freezer");
        moves("Froze the dal", "move all the dal to the freezer");
        moves("i froze half the dal", "move 50% of the dal to the freezer");
        moves("thaw 400 chilli for tomorrow", "thaw 400 chilli");
        moves(
            "took 400 g chilli out of the freezer",
            "thaw 400 g chilli from the freezer",
        );
        moves(
            "rest of the rice in the fridge",
            "move all the rice to the fridge",
        );
        for text in [
            "taking 400 chilli out of the freezer for tomorrow's pasta",
            "took 400 chilli out of the freezer for friday's dinner",
        ] {
            moves(text, "thaw 400 chilli from the freezer");
        }
        moves(
            "froze 600 of the dal on monday",
            "move 600 dal to the freezer, Monday",
        );
        moves(
            "half the chilli and 500 of the rice are in the freezer now",
            "move 50% of the chilli, 500 rice to the freezer",
        );
        moves(
            "chilli, 700 out of the freezer to thaw for tomorrow",
            "thaw 700 chilli from the freezer",
        );
        moves(
            "froze 600 dal yesterday",
            "move 600 dal to the freezer, yesterday",
        );
        moves("froze 600 dal this morning", "move 600 dal to the freezer");
        moves(
            "brought 300 dal in from the garage freezer to the fridge",
            "move 300 dal from the garage freezer to the fridge",
        );
        moves(
            "put 500 dal in the garage freezer",
            "move 500 dal to the garage freezer",
        );
        moves(
            "moved 300 rice from the fridge to the freezer",
            "move 300 rice from the fridge to the freezer",
        );
        moves(
            "froze the dal in two bags, 700 and 640",
            "move all the dal to the freezer in bags 700 g, 640 g",
        );
        for text in [
            "froze the dal in two bags, 700 and 640, bags 9 g each",
            "froze the dal in 2 bags, 700 and 640 g (bags are 9 g each)",
            "froze the dal in two bags: 700 + 640, less 9 g each",
            "froze the dal in two bags (9 g each), 700 and 640",
        ] {
            moves(
                text,
                "move all the dal to the freezer in bags 700 g, 640 g (bags 9 g each)",
            );
        }
        moves(
            "half the chilli in the freezer pls",
            "move 50% of the chilli to the freezer",
        );
        moves(
            "and 400 of the rice into the freezer",
            "move 400 rice to the freezer",
        );
        moves("thawing 300 rice overnight", "thaw 300 rice");
        moves(
            "froze two bags of chilli, 700 and 640",
            "move all the chilli to the freezer in bags 700 g, 640 g",
        );
        moves(
            "three bags of rice gone into the freezer, 400 each",
            "move all the rice to the freezer in bags 400 g, 400 g, 400 g",
        );
        moves(
            "rice into the freezer, 3 bags, 400 in each",
            "move all the rice to the freezer in bags 400 g, 400 g, 400 g",
        );
        moves(
            "froze dal: 3 tubs 400, 400 and 350 g",
            "move all the dal to the freezer in bags 400 g, 400 g, 350 g",
        );
        for text in [
            "froze 500, 480 and 350 of the dal",
            "froze 500 g, 480 g and 350 g dal",
            "froze the dal, 500, 480 and 350",
            "froze dal: 500, 480, 350",
            "put 500, 480 and 350 of the dal in the freezer",
        ] {
            moves(
                text,
                "move all the dal to the freezer in bags 500 g, 480 g, 350 g",
            );
        }
    }

    #[test]
    fn food_goes_into_a_vessel() {
        moves(
            "moved the dal into the glass jar",
            "move all the dal into the glass jar",
        );
        moves(
            "moved 500 of the dal to the glass jar",
            "move 500 dal into the glass jar",
        );
        moves(
            "put 500 dal into the glass jar, in the fridge",
            "move 500 dal to the fridge into the glass jar",
        );
        moves(
            "decanted the rest of the rice into my glass jar",
            "move all the rice into the glass jar",
        );
        moves(
            "moved the dal into the big green tub",
            "move all the dal into the big green tub",
        );
        is_no_move("put the dal in the glass jar");
        is_no_move("moved the dal into my bowl");
        is_no_move("froze -200 dal");
        moves(
            "froze 300 dal and had 140 rice",
            "move 300 dal to the freezer\n140 rice",
        );
        is_no_move("shall we move the dal into the glass jar?");
    }

    #[test]
    fn some_of_it_stays_where_it_is() {
        for text in [
            "froze all but 400 of the dal",
            "froze everything except 400 of the dal",
            "froze all the dal bar 400",
            "froze the dal, kept 400 back",
            "froze the dal and left 400 in the fridge",
            "froze the dal, keeping 400 for tomorrow",
        ] {
            moves(text, "move all the dal but 400 to the freezer");
        }
        moves(
            "put all but 400 of the dal in the garage freezer",
            "move all the dal but 400 to the garage freezer",
        );
        moves(
            "froze the dal and the chilli except for 500 g of each",
            "move all the dal, all the chilli but 500 g to the freezer",
        );
        for text in [
            "froze the dal, left some out",
            "froze the dal but kept a bit",
        ] {
            is_no_move(text);
        }
    }

    #[test]
    fn the_air_is_drawn_off() {
        for text in [
            "vacuum packed the dal",
            "vac-packed the dal",
            "dal vacuum packed",
        ] {
            moves(text, "vacuum packed all the dal");
        }
        moves(
            "vacuum sealed 2 bags of dal, 700 and 640, freezer",
            "move all the dal to the freezer in bags 700 g, 640 g, vacuum packed",
        );
        is_no_move("shall we vacuum pack the dal");
        let eaten = crate::lang::parse("vacuum sealed half the dal", &kitchen());
        assert!(!eaten.best().only_eaten(), "{:?}", eaten.best());
    }

    #[test]
    fn a_place_is_told_behind_a_comma() {
        for text in [
            "froze 500 dal, garage freezer",
            "moved 500 dal: garage freezer",
        ] {
            moves(text, "move 500 dal to the garage freezer");
        }
        moves(
            "froze 500 dal, mum's freezer",
            "move 500 dal to the mum's freezer",
        );
    }

    #[test]
    fn what_people_say_to_each_other_is_no_move() {
        for text in [
            "put the rice in the fridge",
            "can you thaw 400 chilli",
            "the dal is in the freezer",
            "dal to the freezer?",
            "could you put 400 of the dal into the freezer",
            "dal into the freezer when it's cold",
            "freeze!",
            "if you freeze 600 dal there is room",
            "is there rice in the fridge?",
            "i might freeze the dal",
            "froze the dal in two bags, 7 and 6, bags 9 g each",
            "froze 1 and 2 of the dal",
            "don't freeze the dal",
            "we should have frozen 600 of the dal",
        ] {
            is_no_move(text);
        }
    }
}
