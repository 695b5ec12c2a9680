//! What is wished for days to come.

use chrono::{Days, NaiveDate, Timelike};

use super::super::{Step, Stop};
use super::goods::mass;
use super::kitchen::dish;
use super::saying;
use crate::domain::change::Detail;
use crate::domain::clock::ahead;
use crate::domain::draft::Draft;
use crate::domain::ids::ComponentId;
use crate::domain::mass::Mass;
use crate::domain::plate::Plate;
use crate::domain::prep::answer::{PrepAnswer, WishEvent, WishesAnswer};
use crate::domain::prep::books::PrepDetail;
use crate::domain::prep::horizon::DAYS_MAX;
use crate::domain::prep::problem::PrepProblem;
use crate::domain::prep::wish::{KeptWish, Wish, WishView};
use crate::domain::problem::ProblemKind;
use crate::lang::syntax::{self, Ahead, Helping, MealName, Until, Words};

/// No household feeds more at one table.
const PEOPLE_MAX: u32 = 100;
/// More of a dish nobody eats at one sitting.
const HELPING_MOST: Mass = Mass::from_mg(1_500_000);
/// From this hour on what is eaten is dinner, if nobody says otherwise.
const DINNER_HOUR: u32 = 17;

pub fn carry_out(draft: &mut Draft, said: &syntax::Wish) -> Step {
    match said {
        syntax::Wish::Of {
            dishes,
            meal,
            people,
            from,
            until,
        } => wish(draft, dishes, (*meal, *people), from, until),
        syntax::Wish::None {
            dish: name,
            from,
            until,
        } => {
            let (dish, _) = dish(draft, name)?;
            let (from, until) = span(draft, from, &Until::Day(until.clone()))?;
            let wish = Wish {
                dish,
                from,
                until,
                a_day: None,
                meal: None,
                people: None,
            };
            draft.fact(Detail::Prep(PrepDetail::Wish(wish)));
            say(draft, WishEvent::Wished, &[wish])
        }
        syntax::Wish::AsUsual { dish } => as_usual(draft, dish),
        syntax::Wish::Forget { meal } => forget(draft, *meal),
        syntax::Wish::Listed => {
            let to_come = draft.kitchen.prep.wishes.iter().map(|kept| kept.wish);
            let today = draft.today();
            let to_come: Vec<Wish> = to_come.filter(|wish| wish.until >= today).collect();
            say(draft, WishEvent::Listed, &to_come)
        }
    }
}

fn wish(
    draft: &mut Draft,
    dishes: &[Helping],
    (meal, people): (Option<MealName>, Option<u32>),
    from: &Ahead,
    until: &Until,
) -> Step {
    if people == Some(0) {
        return Err(problem(PrepProblem::NoPeople));
    }
    if people.is_some_and(|people| people > PEOPLE_MAX) {
        return Err(problem(PrepProblem::TooManyPeople { most: PEOPLE_MAX }));
    }
    // "4 dinners" are four to come: today's is over once it is eaten.
    let counted = matches!(until, Until::Days(_)) && *from == Ahead::Today;
    let from = match counted && meal == Some(MealName::Dinner) && had_dinner(draft) {
        true => &Ahead::Tomorrow,
        false => from,
    };
    let (from, until) = span(draft, from, until)?;
    if (until - draft.today()).num_days() >= DAYS_MAX as i64 {
        return Err(problem(PrepProblem::PlanTooLong { most: DAYS_MAX }));
    }
    let mut wishes = Vec::new();
    for helping in dishes {
        let (dish, name) = dish(draft, &helping.dish)?;
        let each = match helping.grams {
            Some(grams) => mass(grams)?,
            None => {
                let unknown = || problem(PrepProblem::NoPortion { dish: name.clone() });
                portion(draft, dish).ok_or_else(unknown)?
            }
        };
        // Who is away on one of the days is seen when it is planned; here it is said for those who are here first.
        let eat = people.unwrap_or(draft.kitchen.eaters(from).len() as u32);
        if eat == 0 {
            return Err(problem(PrepProblem::NoPeople));
        }
        if each > HELPING_MOST {
            let days = (until - from).num_days() as u32 + 1;
            let shared = Mass::from_mg(each.mg() / i64::from(eat * days));
            return Err(problem(PrepProblem::BigHelping {
                dish: name,
                each,
                shared,
                days,
                people: eat,
            }));
        }
        let wish = Wish {
            dish,
            from,
            until,
            a_day: Some(Mass::from_mg(each.mg() * i64::from(eat))),
            meal,
            people: Some(eat),
        };
        draft.fact(Detail::Prep(PrepDetail::Wish(wish)));
        wishes.push(wish);
    }
    say(draft, WishEvent::Wished, &wishes)
}

/// Somebody here has had dinner today, by the books.
fn had_dinner(draft: &Draft) -> bool {
    let zone = draft.kitchen.settings().zone;
    let late = |plate: &Plate| {
        let mut hours = plate.portions.iter();
        hours.any(|portion| portion.occurred_at.with_timezone(&zone).hour() >= DINNER_HOUR)
    };
    let today = draft.today();
    let mut plates = draft
        .kitchen
        .plates
        .iter()
        .filter(|plate| plate.day == today);
    plates.any(|plate| match plate.meal {
        Some(meal) => meal == MealName::Dinner && !plate.portions.is_empty(),
        None => late(plate),
    })
}

fn portion(draft: &Draft, dish: ComponentId) -> Option<Mass> {
    let each = draft.kitchen.portion_each(dish);
    each.or_else(|| draft.kitchen.usual_portion(dish))
}

fn span(draft: &Draft, from: &Ahead, until: &Until) -> Result<(NaiveDate, NaiveDate), Stop> {
    let today = draft.today();
    let told = |problem| Stop::from(ProblemKind::Clock(problem));
    let first = ahead::day(from, today).map_err(told)?;
    let last = match until {
        Until::Day(until) => ahead::day_after(until, first, today).map_err(told)?,
        Until::Days(0) => return Err(problem(PrepProblem::NoMeals)),
        Until::Days(days) => first + Days::new(u64::from(days - 1)),
    };
    Ok((first, last))
}

fn as_usual(draft: &mut Draft, name: &Words) -> Step {
    let (dish, name) = dish(draft, name)?;
    let today = draft.today();
    let wishes = draft.kitchen.prep.wishes.iter();
    let meant = wishes.filter(|kept| kept.wish.dish == dish && kept.wish.until >= today);
    let meant: Vec<KeptWish> = meant.cloned().collect();
    if meant.is_empty() {
        return Err(problem(PrepProblem::NotWished { dish: name }));
    }
    drop_all(draft, &meant)
}

/// "forget the dinners": those to come, of whatever dish.
fn forget(draft: &mut Draft, meal: Option<MealName>) -> Step {
    let today = draft.today();
    let of_meal = |wish: &Wish| meal.is_none() || wish.meal == meal;
    let wishes = draft.kitchen.prep.wishes.iter();
    let meant = wishes.filter(|kept| kept.wish.until >= today && of_meal(&kept.wish));
    let meant: Vec<KeptWish> = meant.cloned().collect();
    match meant.is_empty() {
        true => say(draft, WishEvent::Listed, &[]),
        false => drop_all(draft, &meant),
    }
}

fn drop_all(draft: &mut Draft, meant: &[KeptWish]) -> Step {
    draft.takes_away();
    for kept in meant {
        draft.reverse_fact(kept.entry, kept.tip, kept.told_at);
    }
    let wishes: Vec<Wish> = meant.iter().map(|kept| kept.wish).collect();
    say(draft, WishEvent::Dropped, &wishes)
}

fn say(draft: &Draft, event: WishEvent, wishes: &[Wish]) -> Step {
    let view = |wish: &Wish| WishView {
        dish: draft.kitchen.dish_name(wish.dish),
        from: wish.from,
        until: wish.until,
        a_day: wish.a_day,
        meal: wish.meal,
        people: wish.people,
    };
    let eaten = wishes.iter().filter(|wish| wish.a_day.is_some());
    let days = eaten.flat_map(|wish| {
        let until = wish.until;
        wish.from.iter_days().take_while(move |day| *day <= until)
    });
    let mut all_away: Vec<NaiveDate> = days.filter(|day| draft.kitchen.is_empty_on(*day)).collect();
    all_away.sort();
    all_away.dedup();
    all_away.retain(|_| event == WishEvent::Wished);
    saying(PrepAnswer::Wishes(WishesAnswer {
        event,
        all_away,
        wishes: wishes.iter().map(view).collect(),
        today: draft.today(),
        message: (event != WishEvent::Listed).then_some(draft.credit),
    }))
}

fn problem(problem: PrepProblem) -> Stop {
    ProblemKind::Prep(problem).into()
}
