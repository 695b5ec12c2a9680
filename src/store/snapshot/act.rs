//! Acts: what one message, over all its revisions, has put into the books.

use std::collections::BTreeMap;

use super::{RECENT_ACTS, RECENT_ENTRIES};
use crate::domain::act::{Act, ActEntry};
use crate::domain::batch::Money;
use crate::domain::change::Detail;
use crate::domain::ids::*;
use crate::domain::kitchen::FoodChoice;
use crate::domain::ledger::Entry;
use crate::domain::mass::Mass;
use crate::store::Transaction;
use crate::store::error::{Doing, Result};
use crate::store::household::HouseholdId;
use crate::store::words;

/// An entry with the detail rows of every kind, at most one of which is there.
struct EntryRow {
    entry_id: i64,
    kind: String,
    occurred_at: String,
    recorded_at: String,
    member_id: i64,
    message_id: i64,
    from_id: i64,
    from_kind: String,
    to_id: i64,
    to_kind: String,
    mass_mg: i64,
    batch_id: Option<i64>,
    profile_id: Option<i64>,
    reverses: Option<i64>,
    root: Option<i64>,
    live: bool,
    tip: i64,
    takes_back: bool,
    line: Option<i64>,
    line_text: Option<String>,
    line_part: Option<String>,
    line_state: Option<String>,
    line_estimated: Option<bool>,
    line_note: Option<String>,
    line_source: Option<i64>,
    gross_mg: Option<i64>,
    tare_mg: Option<i64>,
    poured: Option<String>,
    poured_part: Option<String>,
    pieces: Option<i64>,
    pieces_of_mg: Option<i64>,
    pieces_word: Option<String>,
    portion_estimated: Option<bool>,
    wasted: Option<String>,
    hundredths: Option<i64>,
    currency: Option<String>,
    taken: Option<String>,
    taker: Option<i64>,
    packet: Option<String>,
    packet_key: Option<String>,
    packet_profile: Option<i64>,
    serving_mg: Option<i64>,
    doubted: Option<bool>,
    measure: Option<String>,
    measure_key: Option<String>,
    each_mg: Option<i64>,
    tare_container: Option<i64>,
    container_tare_mg: Option<i64>,
    stood_lot: Option<i64>,
    stood_container: Option<i64>,
    stood_tare_mg: Option<i64>,
    choice_key: Option<String>,
    choice_food: Option<String>,
    choice_eaten: Option<bool>,
    setting_key: Option<String>,
    setting_value: Option<String>,
    told_lot: Option<i64>,
    told_use_by: Option<String>,
    own_component: Option<i64>,
    own_storage: Option<String>,
    own_count: Option<i64>,
    own_unit: Option<String>,
    kind_place: Option<i64>,
    place_kind: Option<String>,
}

impl Transaction {
    /// The newest acts of a member, newest first.
    pub(super) async fn recent_acts(
        &mut self,
        household: HouseholdId,
        member: MemberId,
    ) -> Result<Vec<Act>> {
        let messages = sqlx::query_scalar!(
            r#"select message_id as "message_id!: i64" from (
                   select message_id, entry_id from entry
                   where household_id = ? and member_id = ? and message_id is not null
                   order by entry_id desc limit ?)
               group by message_id order by max(entry_id) desc limit ?"#,
            household.0,
            member.0,
            RECENT_ENTRIES,
            RECENT_ACTS
        )
        .fetch_all(self.connection())
        .await
        .doing("look for recent entries")?;
        let messages: Vec<MessageId> = messages.into_iter().map(MessageId).collect();
        self.acts(household, &messages).await
    }

    /// The acts that wrote the entries which some of these, that only reverse, took back or put back.
    pub(super) async fn undone(
        &mut self,
        household: HouseholdId,
        acts: &[&Act],
    ) -> Result<Vec<Act>> {
        let undoes = acts.iter().filter(|act| act.puts_back().is_some());
        let entries = undoes.flat_map(|act| &act.entries);
        let mut roots = entries.filter_map(|entry| entry.entry.root).peekable();
        if roots.peek().is_none() {
            return Ok(Vec::new());
        }
        let roots = words::id_list(roots.map(|id| id.0));
        let messages = sqlx::query_scalar!(
            r#"select distinct message_id as "message_id!: i64" from entry
               where household_id = ? and entry_id in (select value from json_each(?)) and message_id is not null
               order by message_id"#,
            household.0,
            roots
        )
        .fetch_all(self.connection())
        .await
        .doing("look for what was undone")?;
        let messages: Vec<MessageId> = messages.into_iter().map(MessageId).collect();
        self.acts(household, &messages).await
    }

    /// The acts that have taken back something of an act since, and something of theirs, oldest first.
    pub(super) async fn corrections(
        &mut self,
        household: HouseholdId,
        act: &Act,
    ) -> Result<Vec<Act>> {
        let mut found: Vec<Act> = Vec::new();
        let mut written: Vec<i64> = act.entries.iter().map(|entry| entry.entry.id.0).collect();
        while !written.is_empty() {
            let roots = words::id_list(written.drain(..));
            let messages = sqlx::query_scalar!(
                r#"select distinct message_id as "message_id!: i64" from entry
                   where household_id = ? and root in (select value from json_each(?)) and message_id is not null"#,
                household.0,
                roots
            )
            .fetch_all(self.connection())
            .await
            .doing("look for corrections")?;
            let messages: Vec<MessageId> = messages.into_iter().map(MessageId).collect();
            for later in self.acts(household, &messages).await? {
                let first = |act: &Act| act.entries.first().map(|entry| entry.entry.id);
                let known = std::iter::once(act).chain(&found);
                if known.map(first).any(|known| known == first(&later)) {
                    continue;
                }
                written.extend(later.entries.iter().map(|entry| entry.entry.id.0));
                found.push(later);
            }
        }
        found.sort_by_key(|act| act.entries.first().map(|entry| entry.entry.id));
        Ok(found)
    }

    /// The acts of these messages, in their order; revisions of one message are one act.
    pub(super) async fn acts(
        &mut self,
        household: HouseholdId,
        messages: &[MessageId],
    ) -> Result<Vec<Act>> {
        if messages.is_empty() {
            return Ok(Vec::new());
        }
        let mut acts: Vec<Act> = Vec::new();
        // Which act a revision belongs to.
        let mut act_of: BTreeMap<i64, usize> = BTreeMap::new();
        let asked = words::id_list(messages.iter().map(|message| message.0));
        let revisions = sqlx::query!(
            r#"select r.message_id, r.body, r.sent_at, r.member_id as "member_id!: i64", m.message_id as asked,
                      coalesce(r.outcome = 'recorded', 0) as "recorded!: bool"
               from json_each(?1) wanted
               join message m on m.message_id = wanted.value
               join message r on r.channel = m.channel and r.chat = m.chat and r.kind = m.kind
                             and r.external_id = m.external_id
               where m.household_id = ?2 and r.household_id = ?2
               order by wanted.key, r.revision"#,
            asked,
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("read what messages said")?;
        for row in revisions {
            let known = act_of
                .get(&row.message_id)
                .or(act_of.get(&row.asked))
                .copied();
            let index = known.unwrap_or(acts.len());
            if known.is_none() {
                acts.push(Act {
                    message: MessageId(row.message_id),
                    member: MemberId(row.member_id),
                    text: row.body.clone(),
                    revised: MessageId(row.message_id),
                    sent_at: words::time(&row.sent_at)?,
                    entries: Vec::new(),
                });
            }
            acts[index].revised = MessageId(row.message_id);
            if row.recorded {
                acts[index].text = row.body;
            }
            act_of.insert(row.message_id, index);
            act_of.insert(row.asked, index);
        }
        for row in self.entry_rows(household, act_of.keys().copied()).await? {
            if let Some(index) = act_of.get(&row.message_id) {
                acts[*index].entries.push(act_entry(row)?);
            }
        }
        self.fill_prep(household, &mut acts).await?;
        self.clock_details(household, &mut acts).await?;
        self.fill_personal(household, &mut acts).await?;
        acts.retain(|act| !act.entries.is_empty());
        Ok(acts)
    }

    async fn entry_rows(
        &mut self,
        household: HouseholdId,
        messages: impl Iterator<Item = i64>,
    ) -> Result<Vec<EntryRow>> {
        let messages = words::id_list(messages);
        sqlx::query_as!(
            EntryRow,
            r#"select e.entry_id as "entry_id!", e.kind as "kind!", e.occurred_at as "occurred_at!",
                      e.recorded_at as "recorded_at!", e.member_id as "member_id!", e.message_id as "message_id!",
                      e.from_id as "from_id!", a.kind as "from_kind!", e.to_id as "to_id!", b.kind as "to_kind!",
                      e.mass_mg as "mass_mg!", e.batch_id, e.profile_id, e.reverses, e.root,
                      case when e.root is null
                           then not exists (select 1 from voided v
                                            where v.household_id = e.household_id and v.entry_id = e.entry_id)
                           else (select count(*) from entry r
                                 where r.household_id = e.household_id and r.root = e.root) % 2
                              = (select count(*) from entry r
                                 where r.household_id = e.household_id and r.root = e.root
                                   and r.entry_id <= e.entry_id) % 2
                      end as "live!: bool",
                      coalesce((select max(r.entry_id) from entry r
                                where r.household_id = e.household_id and r.root = coalesce(e.root, e.entry_id)),
                               e.entry_id) as "tip!: i64",
                      (select count(*) from entry r
                       where r.household_id = e.household_id and r.root = e.root and r.entry_id <= e.entry_id) % 2 = 1
                          as "takes_back!: bool",
                      i.line as "line?", i.text as "line_text?", i.part as "line_part?", i.state as "line_state?",
                      i.estimated as "line_estimated?: bool", i.note as "line_note?", i.source_id as "line_source?",
                      w.gross_mg as "gross_mg?", w.tare_mg as "tare_mg?",
                      p.what as "poured?", p.part as "poured_part?",
                      n.count as "pieces?", n.of_mg as "pieces_of_mg?", n.word as "pieces_word?",
                      o.estimated as "portion_estimated?: bool",
                      ww.reason as "wasted?", pp.hundredths as "hundredths?", pp.currency as "currency?",
                      u.amount as "taken?", u.taker_id as "taker?",
                      k.name as "packet?", k.name_key as "packet_key?", k.profile_id as "packet_profile?",
                      k.serving_mg as "serving_mg?", k.doubted as "doubted?: bool",
                      m.measure as "measure?", m.name_key as "measure_key?", m.each_mg as "each_mg?",
                      t.container_id as "tare_container?", t.tare_mg as "container_tare_mg?",
                      c.lot_id as "stood_lot?", c.container_id as "stood_container?", c.tare_mg as "stood_tare_mg?",
                      h.name_key as "choice_key?", h.food as "choice_food?", h.eaten as "choice_eaten?: bool",
                      s.key as "setting_key?", s.value as "setting_value?",
                      y.lot_id as "told_lot?", y.use_by as "told_use_by?",
                      d.component_id as "own_component?", d.storage as "own_storage?", d.count as "own_count?",
                      d.unit as "own_unit?",
                      l.place_id as "kind_place?", l.kind as "place_kind?"
               from entry e
               join account a on a.household_id = e.household_id and a.account_id = e.from_id
               join account b on b.household_id = e.household_id and b.account_id = e.to_id
               left join ingredient i on i.household_id = e.household_id and i.entry_id = coalesce(e.root, e.entry_id)
               left join weighing w on w.household_id = e.household_id and w.entry_id = coalesce(e.root, e.entry_id)
               left join pour_off p on p.household_id = e.household_id and p.entry_id = coalesce(e.root, e.entry_id)
               left join pieces n on n.household_id = e.household_id and n.entry_id = coalesce(e.root, e.entry_id)
               left join portion o on o.household_id = e.household_id and o.entry_id = coalesce(e.root, e.entry_id)
               left join waste ww on ww.household_id = e.household_id and ww.entry_id = coalesce(e.root, e.entry_id)
               left join price pp on pp.household_id = e.household_id and pp.entry_id = coalesce(e.root, e.entry_id)
               left join taking u on u.household_id = e.household_id and u.entry_id = coalesce(e.root, e.entry_id)
               left join packet k on k.household_id = e.household_id and k.entry_id = coalesce(e.root, e.entry_id)
               left join measure m on m.household_id = e.household_id and m.entry_id = coalesce(e.root, e.entry_id)
               left join tare t on t.household_id = e.household_id and t.entry_id = coalesce(e.root, e.entry_id)
               left join vessel c on c.household_id = e.household_id and c.entry_id = coalesce(e.root, e.entry_id)
               left join choice h on h.household_id = e.household_id and h.entry_id = coalesce(e.root, e.entry_id)
               left join setting s on s.household_id = e.household_id and s.entry_id = coalesce(e.root, e.entry_id)
               left join told_date y on y.household_id = e.household_id and y.entry_id = coalesce(e.root, e.entry_id)
               left join own_days d on d.household_id = e.household_id and d.entry_id = coalesce(e.root, e.entry_id)
               left join place_kind l on l.household_id = e.household_id and l.entry_id = coalesce(e.root, e.entry_id)
               where e.message_id in (select value from json_each(?1)) and e.household_id = ?2
               order by e.entry_id"#,
            messages,
            household.0
        )
        .fetch_all(self.connection())
        .await
        .doing("read what messages booked")
    }
}

fn act_entry(row: EntryRow) -> Result<ActEntry> {
    let entry = Entry {
        id: EntryId(row.entry_id),
        kind: words::entry_kind(&row.kind)?,
        occurred_at: words::time(&row.occurred_at)?,
        recorded_at: words::time(&row.recorded_at)?,
        member: MemberId(row.member_id),
        from: words::account(&row.from_kind, row.from_id)?,
        to: words::account(&row.to_kind, row.to_id)?,
        mass: Mass::from_mg(row.mass_mg),
        batch: row.batch_id.map(BatchId),
        profile: row.profile_id.map(ProfileId),
        reverses: row.reverses.map(EntryId),
        root: row.root.map(EntryId),
    };
    let (live, tip, takes_back) = (row.live, EntryId(row.tip), row.takes_back);
    Ok(ActEntry {
        // That of a reversal is its first entry's: putting it back makes it count again.
        detail: detail(row)?,
        entry,
        live,
        tip,
        takes_back,
    })
}

fn detail(row: EntryRow) -> Result<Option<Detail>> {
    if let (Some(gross), Some(tare)) = (row.gross_mg, row.tare_mg) {
        return Ok(Some(Detail::Weighing {
            gross: Mass::from_mg(gross),
            tare: Mass::from_mg(tare),
        }));
    }
    if let Some(count) = row.pieces {
        return Ok(Some(Detail::Pieces {
            count: words::count(count)?,
            of: row.pieces_of_mg.map(Mass::from_mg),
            word: row.pieces_word,
        }));
    }
    if let Some(estimated) = row.portion_estimated {
        return Ok(Some(Detail::Portion { estimated }));
    }
    if let Some(reason) = row.wasted {
        return Ok(Some(Detail::Waste { reason }));
    }
    if let Some(hundredths) = row.hundredths {
        let currency = row.currency.unwrap_or_default();
        return Ok(Some(Detail::Price(Money {
            hundredths,
            currency,
        })));
    }
    if let Some(amount) = row.taken {
        let taker = row.taker.map(MemberId);
        return Ok(Some(Detail::Taking { amount, taker }));
    }
    if let Some(what) = row.poured {
        let kind = words::pour_kind(&what, row.poured_part)?;
        return Ok(Some(Detail::PourOff(kind)));
    }
    let (Some(line), Some(state)) = (row.line, &row.line_state) else {
        return fact(row);
    };
    Ok(Some(Detail::Ingredient {
        number: words::line_number(line)?,
        state: words::line_state(state)?,
        text: row.line_text.unwrap_or_default(),
        part: row.line_part,
        estimated: row.line_estimated.unwrap_or(false),
        note: row.line_note,
        source: row.line_source.map(BatchId),
    }))
}

fn fact(row: EntryRow) -> Result<Option<Detail>> {
    let fact = if let (Some(name), Some(key), Some(profile)) =
        (row.packet, row.packet_key, row.packet_profile)
    {
        Detail::Packet {
            name,
            key,
            profile: ProfileId(profile),
            serving: row.serving_mg.map(Mass::from_mg),
            doubted: row.doubted.unwrap_or(false),
        }
    } else if let (Some(measure), Some(each)) = (row.measure, row.each_mg) {
        Detail::Measure {
            measure,
            key: row.measure_key,
            each: Mass::from_mg(each),
        }
    } else if let (Some(container), Some(tare)) = (row.tare_container, row.container_tare_mg) {
        Detail::Tare {
            container: ContainerId(container),
            tare: Mass::from_mg(tare),
        }
    } else if let Some(lot) = row.stood_lot {
        Detail::Vessel {
            lot: AccountId(lot),
            vessel: words::vessel(row.stood_container, row.stood_tare_mg),
        }
    } else if let (Some(key), Some(food)) = (row.choice_key, row.choice_food) {
        Detail::Choice(FoodChoice {
            key,
            food: words::food(&food)?,
            eaten: row.choice_eaten.unwrap_or(false),
        })
    } else if let (Some(key), Some(value)) = (row.setting_key, row.setting_value) {
        Detail::Setting(words::setting(&key, &value)?)
    } else if let (Some(lot), Some(on)) = (row.told_lot, row.told_use_by) {
        Detail::ToldDate {
            lot: AccountId(lot),
            on: words::day(&on)?,
        }
    } else if let (Some(component), Some(storage)) = (row.own_component, row.own_storage) {
        let (count, unit) = (row.own_count, row.own_unit);
        Detail::OwnDays(words::own_days(component, &storage, count, unit)?)
    } else if let (Some(place), Some(kind)) = (row.kind_place, row.place_kind) {
        Detail::PlaceKind {
            place: PlaceId(place),
            kind: words::place_kind(&kind)?,
        }
    } else {
        return Ok(None);
    };
    Ok(Some(fact))
}
