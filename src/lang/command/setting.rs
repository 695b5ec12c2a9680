//! How the bot answers and measures: "brief", "full answers", "metric cups", "uk guidance", "no board",
//! "timezone Europe/Dublin", "energy in kJ", "decimal comma", "the day turns at 4am"; and what of it is chosen: "settings", "when is prep day".

use nom::Parser;
use nom::combinator::opt;

use crate::lang::command::only_marks;
use crate::lang::hour::{Hour, expected};
use crate::lang::syntax::{
    AnswerStyle, Command, DecimalMark, EnergyUnit, ErrorKind, MeasureSystem, Region, Setting,
    SettingPart, Words,
};
use crate::lang::token::Kind;
use crate::lang::tokens::{Read, Tokens, symbol, word};
use crate::lang::words::settings;

pub fn read(input: Tokens<'_>) -> Read<'_, Command> {
    if let Some(part) = asked(input.trimmed()) {
        return Ok((input.after(input.len()), Command::Settings(part)));
    }
    if let Some(mark) = decimals(input.trimmed_front()) {
        let setting = Setting::Decimals(mark);
        return Ok((input.after(input.len()), Command::Setting(setting)));
    }
    let (rest, _) = opt(word(&[
        "set", "use", "setting", "settings", "switch", "change",
    ]))
    .parse(input.trimmed())?;
    let (rest, _) = opt(word(&["to"])).parse(rest)?;
    let (rest, _) = opt(symbol(':')).parse(rest)?;
    if let Ok(read) = timezone(rest) {
        return Ok(read);
    }
    if let Some(setting) = day_turns(rest) {
        return Ok((rest.after(rest.len()), Command::Setting(setting)));
    }
    let Some((length, key)) = settings().longest(rest.slice) else {
        return input.no();
    };
    if !only_marks(rest.after(length)) {
        return input.no();
    }
    let setting = match key {
        "set up" => return input.no(),
        _ if key.starts_with("show") => return input.no(),
        "brief" => Setting::Answers(AnswerStyle::Brief),
        "full" => Setting::Answers(AnswerStyle::Full),
        "reaction" => Setting::Answers(AnswerStyle::Reaction),
        "guidance us" => Setting::Guidance(Region::UnitedStates),
        "guidance uk" => Setting::Guidance(Region::UnitedKingdom),
        "guidance au-nz" => Setting::Guidance(Region::AustraliaNewZealand),
        "kj" => Setting::Energy(EnergyUnit::Kilojoule),
        "kcal" => Setting::Energy(EnergyUnit::Kcal),
        _ if key.starts_with("day turns") => return input.no(),
        "board" => Setting::Board(true),
        "no board" => Setting::Board(false),
        "us" => Setting::Measures(MeasureSystem::UsCustomary),
        "metric" => Setting::Measures(MeasureSystem::Metric),
        "australian" => Setting::Measures(MeasureSystem::Australian),
        _ => Setting::Measures(MeasureSystem::British),
    };
    Ok((rest.after(rest.len()), Command::Setting(setting)))
}

/// "settings", "when is prep day?"
fn asked(body: Tokens<'_>) -> Option<Option<SettingPart>> {
    let (length, key) = settings().longest(body.slice)?;
    let rest = body.after(length);
    let rest = rest.after(usize::from(rest.first().is_some_and(|next| next.is('?'))));
    let part = match key.strip_prefix("show")?.trim() {
        "" => None,
        "zone" => Some(SettingPart::Zone),
        "measures" => Some(SettingPart::Measures),
        "answers" => Some(SettingPart::Answers),
        "guidance" => Some(SettingPart::Guidance),
        "board" => Some(SettingPart::Board),
        "energy" => Some(SettingPart::Energy),
        "decimals" => Some(SettingPart::Decimals),
        "day turns" => Some(SettingPart::DayTurns),
        "prep day" => Some(SettingPart::PrepDay),
        "morning note" => Some(SettingPart::MorningNote),
        "evening note" => Some(SettingPart::EveningNote),
        "put away" => Some(SettingPart::PutAway),
        _ => Some(SettingPart::QuietHours),
    };
    only_marks(rest).then_some(part)
}

/// "decimal comma", "use decimal points": to the lexer a comma is a mark, whether it is written or named.
fn decimals(input: Tokens<'_>) -> Option<DecimalMark> {
    let rest = input.after(usize::from(matches!(input.norm(0), "use" | "set" | "with")));
    let rest = rest.after(usize::from(matches!(rest.norm(0), "a" | "the")));
    let named = matches!(rest.norm(0), "decimal" | "decimals");
    let rest = rest.after(1);
    let rest = rest.after(usize::from(matches!(rest.norm(0), "with" | "as")));
    let rest = rest.after(usize::from(rest.norm(0) == "a"));
    let mark = rest.first().filter(|_| named)?;
    let comma = mark.is(',') || matches!(mark.norm(), "comma" | "commas");
    let point = mark.is('.') || matches!(mark.norm(), "point" | "points" | "dot" | "dots");
    let told = comma.then_some(DecimalMark::Comma);
    let told = told.or(point.then_some(DecimalMark::Point))?;
    only_marks(rest.after(1)).then_some(told)
}

/// "our day turns at 4am"
fn day_turns(input: Tokens<'_>) -> Option<Setting> {
    let told = |part| settings().longest_of(input.slice, part);
    let length = told("day turns").or_else(|| told("day turns loosely"))?;
    let rest = input.after(length);
    let (rest, hour) = expected(rest, true).or_else(|| no_hour(rest))?;
    only_marks(rest).then_some(Setting::DayTurns(hour))
}

/// "25:00" is no hour, which is said with those that may be.
fn no_hour(input: Tokens<'_>) -> Option<(Tokens<'_>, Hour)> {
    let rest = input.after(usize::from(input.norm(0) == "at"));
    let whole = |rest: Tokens<'_>| match rest.first()?.kind {
        Kind::Number(number) if number.value.fract() == 0.0 => Some(number.value as u32),
        _ => None,
    };
    let hour = whole(rest)?;
    let rest = rest.after(1);
    match rest.first().is_some_and(|token| token.is(':')) {
        true => Some((rest.after(2), Hour::at(hour, whole(rest.after(1))?))),
        false => Some((rest, Hour::at(hour, 0))),
    }
}

/// "Argentina/Buenos Aires"
const ZONE_WORDS_MAX: usize = 3;

fn timezone(input: Tokens<'_>) -> Read<'_, Command> {
    let length = match (input.norm(0), input.norm(1)) {
        ("timezone" | "tz", _) => 1,
        ("time", "zone") => 2,
        _ => match settings().longest_of(input.slice, "zone lead") {
            // "we are in the kitchen": only a zone by its whole name is one.
            Some(length) if input.after(length).slice.iter().any(|token| token.is('/')) => length,
            _ => return input.no(),
        },
    };
    let mut rest = input.after(length).without_lead();
    while matches!(rest.norm(0), "is" | "to") {
        rest = rest.after(1);
    }
    let zone = rest.trimmed();
    if zone.is_empty() {
        return input.fail(ErrorKind::Malformed {
            form: "timezone Europe/Dublin",
        });
    }
    // As typed: "America/New_York" keeps its underscore.
    let said = input.text[zone.span()].trim().to_owned();
    // "time zone New York"
    let words = said.split_whitespace().count();
    let worded = zone
        .slice
        .iter()
        .all(|token| matches!(token.kind, Kind::Word(_)));
    if words > ZONE_WORDS_MAX || words > 1 && !worded {
        return input.no();
    }
    Ok((
        rest.after(rest.len()),
        Command::Setting(Setting::Timezone(Words::new(said, zone.span()))),
    ))
}
