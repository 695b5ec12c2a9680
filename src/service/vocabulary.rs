//! The household's own words, without which text cannot be cut.

use crate::domain::kitchen::Kitchen;
use crate::lang::{Sense, Vocabulary};

pub fn vocabulary(kitchen: &Kitchen) -> Vocabulary {
    let mut vocabulary = Vocabulary::new();
    for batch in kitchen.batches.values() {
        vocabulary.add(Sense::Batch, &batch.name);
        vocabulary.add(Sense::Code, &batch.code);
    }
    for component in &kitchen.components {
        vocabulary.add(Sense::Batch, &component.name);
    }
    for container in &kitchen.containers {
        vocabulary.add(Sense::Container, &container.name);
    }
    for member in &kitchen.members {
        vocabulary.add(Sense::Person, &member.name);
    }
    for place in &kitchen.places {
        vocabulary.add(Sense::Place, &place.name);
    }
    for packet in &kitchen.packets {
        vocabulary.add(Sense::Packet, &packet.name);
    }
    for measure in &kitchen.measures {
        vocabulary.add(Sense::Measure, &measure.measure);
    }
    for (_, words, _) in &kitchen.choices {
        vocabulary.add(Sense::Food, words);
    }
    vocabulary
}
