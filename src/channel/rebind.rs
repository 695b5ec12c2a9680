//! `hobside rebind`: another account for somebody who is known, or another chat for a household; what was done, in words.

use anyhow::{Context, bail};
use chrono::{DateTime, Utc};

use super::export::household;
use super::{bridge, telegram, terminal};
use crate::render::clean;
use crate::store::{Bound, GONE, HouseholdId, MemberRow, Store, Transaction};

/// A channel and its own id of an account or a chat: `telegram:123456789`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Address {
    pub channel: &'static str,
    pub id: String,
}

impl std::str::FromStr for Address {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let channels = [telegram::CHANNEL, bridge::CHANNEL, terminal::CHANNEL];
        let (channel, id) = text.split_once(':').unwrap_or((text, ""));
        let known = channels.into_iter().find(|known| *known == channel);
        match known.filter(|_| !id.is_empty()) {
            Some(channel) => Ok(Self {
                channel,
                id: id.to_owned(),
            }),
            None => Err(format!(
                "write it as CHANNEL:ID, the channel being one of {}",
                channels.join(", ")
            )),
        }
    }
}

/// Another account for a member.
///
/// # Errors
/// If there is no such household or member, or the account is somebody's whom that would harm: then nothing has changed.
pub async fn account(
    store: &Store,
    chat: &str,
    member: &str,
    account: &Address,
    beside: bool,
    now: DateTime<Utc>,
) -> anyhow::Result<String> {
    let mut transaction = store.begin().await?;
    let household = household(&mut transaction, chat).await?;
    let member = member_named(&mut transaction, household.id, member).await?;
    let Address { channel, id } = account;
    let bound = transaction
        .bind_account(household.id, &member, (channel, id), beside, now)
        .await?;
    let name = clean(&member.name);
    match bound {
        Bound::Already => bail!("{channel}:{id} is {name} already"),
        Bound::Elsewhere => bail!(
            "{channel}:{id} sits at the table of another household, where {name} does not: nothing has changed"
        ),
        Bound::Done { before } => {
            transaction.commit().await?;
            let mut text = format!("{channel}:{id} is {name} from now on.\n");
            for name in before {
                let name = clean(&name);
                text.push_str(&format!(
                    "It was {name} before, who has left the table; what was booked as {name} stays so.\n"
                ));
            }
            Ok(text)
        }
    }
}

/// Another chat for a household.
///
/// # Errors
/// If there is no such household, or the chat is in use: then nothing has changed.
pub async fn chat(
    store: &Store,
    old: &str,
    new: &Address,
    beside: bool,
    now: DateTime<Utc>,
) -> anyhow::Result<String> {
    let mut transaction = store.begin().await?;
    let household = household(&mut transaction, old).await?;
    let Address { channel, id } = new;
    if let Some(row) = transaction.chat(channel, id).await? {
        match row.household == household.id {
            true => bail!("{channel}:{id} is a chat of this household already"),
            false => bail!("{channel}:{id} belongs to another household: nothing has changed"),
        }
    }
    let known = household.chats.iter().find(|(_, known)| known == old);
    let (old_channel, old) = known.context("the household was found by this chat")?;
    let to = (*channel, id.as_str());
    transaction
        .bind_chat(household.id, (old_channel, old), to, beside, now)
        .await?;
    transaction.commit().await?;
    let name = clean(&household.name);
    let beside = if beside { "also " } else { "" };
    Ok(format!(
        "{name} is {beside}reached in {channel}:{id} from now on.\n"
    ))
}

/// Somebody by a name or by the number that `two of one name` are told apart by.
///
/// # Errors
/// If there is nobody, or more than one.
pub(super) async fn member_named(
    transaction: &mut Transaction,
    household: HouseholdId,
    wanted: &str,
) -> anyhow::Result<MemberRow> {
    let mut members = transaction.members_ever(household).await?;
    members.retain(|member| member.name != GONE);
    let wanted_key = wanted.trim().to_lowercase();
    let is_called = |member: &MemberRow| {
        let mut names = member.names.iter();
        names.any(|name| name.to_lowercase() == wanted_key)
    };
    let number = |member: &MemberRow| wanted.trim().parse() == Ok(member.id.0);
    let mut found: Vec<&MemberRow> = members.iter().filter(|it| is_called(it)).collect();
    if found.len() > 1 && found.iter().filter(|member| member.here).count() == 1 {
        found.retain(|member| member.here);
    }
    if found.is_empty() {
        found = members.iter().filter(|it| number(it)).collect();
    }
    let told = |member: &&MemberRow| {
        let state = match (member.chats(), member.here) {
            (false, _) => ", who does not chat",
            (true, true) => "",
            (true, false) => ", who has left",
        };
        format!("{} (number {}{state})", clean(&member.name), member.id.0)
    };
    match found.as_slice() {
        [only] => Ok((*only).clone()),
        [] => {
            let known: Vec<String> = members.iter().map(|member| told(&member)).collect();
            bail!(
                "nobody here is called {wanted:?}; there are: {}",
                known.join(", ")
            )
        }
        several => {
            let known: Vec<String> = several.iter().map(told).collect();
            bail!(
                "several are called {wanted:?}, so say the number: {}",
                known.join(", ")
            )
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_address_is_a_channel_and_its_own_id() {
        let address: Address = "telegram:-100123".parse().expect("it is one");
        assert_eq!(
            (address.channel, address.id.as_str()),
            ("telegram", "-100123")
        );
        let address: Address = "bridge:a:b".parse().expect("it is one");
        assert_eq!((address.channel, address.id.as_str()), ("bridge", "a:b"));
        for wrong in ["", "telegram", "telegram:", "signal:1", "-100123"] {
            let error = wrong.parse::<Address>().expect_err(wrong);
            assert!(error.contains("CHANNEL:ID"), "{error}");
        }
    }
}
