//! What the household has chosen and named: its settings as they stand, and its words as the language
//! needs them.

use super::change::SettingChange;
use super::ids::EntryId;
use super::keeping::region_of_zone;
use super::kitchen::{Kitchen, Settings};
use super::origin::Origin;
use crate::lang::{Sense, Vocabulary};

impl Settings {
    /// As they stand after all that was chosen, oldest first.
    pub fn after(defaults: &Settings, chosen: &[(EntryId, SettingChange)]) -> Settings {
        let mut settings = defaults.clone();
        let zone = chosen.iter().rev().find_map(|(_, change)| match change {
            SettingChange::Zone(zone) => Some(*zone),
            _ => None,
        });
        // The region of guidance follows the zone, until one is chosen.
        if let Some(zone) = zone {
            settings.guidance = region_of_zone(zone.name());
        }
        for (_, change) in chosen {
            match change {
                SettingChange::Answers(style) => settings.answers = *style,
                SettingChange::Measures(system) => settings.measures = *system,
                SettingChange::Zone(zone) => settings.zone = *zone,
                SettingChange::Guidance(region) => settings.guidance = *region,
                SettingChange::Board(hangs) => settings.board = Some(*hangs),
                SettingChange::Energy(unit) => settings.energy = *unit,
                SettingChange::Decimals(mark) => settings.decimals = *mark,
                SettingChange::DayTurns(at) => settings.day_turns = *at,
                SettingChange::SetUp => settings.set_up = true,
                SettingChange::Clock(choice) => settings.clock.choose(*choice),
            }
        }
        settings
    }
}

impl Kitchen {
    pub fn settings(&self) -> Settings {
        Settings::after(&self.defaults, &self.chosen)
    }

    /// The household's words, as the language needs them.
    pub fn vocabulary(&self) -> Vocabulary {
        let mut words = Vocabulary::new();
        for component in &self.components {
            words.add(Sense::Batch, &component.name);
        }
        for batch in self.batches.values() {
            words.add(Sense::Batch, &batch.name);
            words.add(Sense::Code, &batch.code);
            if batch.origin == Origin::Bought {
                words.add_bought(&batch.name);
            }
            if let Some(piece) = batch.piece_name().filter(|_| batch.open) {
                words.add_piece(&piece);
            }
        }
        for container in &self.containers {
            words.add(Sense::Container, &container.name);
        }
        for member in self.members() {
            member
                .words()
                .for_each(|name| words.add(Sense::Person, name));
        }
        for place in &self.places {
            words.add(Sense::Place, &place.name);
        }
        for packet in &self.packets {
            words.add(Sense::Packet, &packet.name);
        }
        for measure in &self.measures {
            words.add(Sense::Measure, &measure.measure);
        }
        // Who has begun a list here means it, also when all that was on it is bought.
        if let Some(list) = self.prep.shop.newest() {
            words.open_list();
            for line in list.unticked().filter(|_| !list.closed) {
                words.add_listed(&line.good.words);
            }
        }
        for (_, choice) in &self.choices {
            words.add(Sense::Food, &choice.key);
        }
        words
    }
}
