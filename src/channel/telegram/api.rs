//! The Bot API through teloxide's typed client: only the calls that this bot makes.

use std::fmt;
use std::time::Duration;

use anyhow::{Context, Result, ensure};
use serde::{Deserialize, Serialize};
use serde_json::Value;
use teloxide::net::default_reqwest_settings;
use teloxide::payloads::{
    EditMessageTextSetters as _, PinChatMessageSetters as _, SendDocumentSetters,
    SendMessageSetters as _, SendPhotoSetters as _, SetMessageReactionSetters as _,
    UnpinChatMessageSetters as _,
};
use teloxide::requests::{JsonRequest, Payload, Requester as _};
use teloxide::types::{
    AllowedUpdate, CallbackQueryId, ChatId, InlineKeyboardMarkup, InputFile, LinkPreviewOptions,
    MessageId, ParseMode, ReactionType, ReplyParameters, ThreadId,
};
use teloxide::{Bot, RequestError};

use super::plain::{self, Arrived};
use super::token::Token;
use super::trouble::{self, Trouble};
use crate::channel::drawn;
use crate::render::Picture;

/// How long the server may keep a poll open while nothing happens.
const POLL: Duration = Duration::from_secs(50);

/// What the bot asks for, with every poll: the server remembers only what it was last told.
const ALLOWED: [AllowedUpdate; 3] = [
    AllowedUpdate::Message,
    AllowedUpdate::EditedMessage,
    AllowedUpdate::CallbackQuery,
];

/// Two clients, since a poll has to outlive any other call. No `Debug` of teloxide's own: that one
/// prints the token.
#[derive(Clone)]
pub struct Api {
    calls: Bot,
    polls: Bot,
}

impl fmt::Debug for Api {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("Api(...)")
    }
}

/// What the bot is told about itself.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Me {
    /// Without the `@`.
    pub username: String,
    /// Privacy mode is off: in groups it sees every message.
    #[serde(rename = "can_read_all_group_messages", default)]
    pub hears_all: bool,
}

/// teloxide's own poll reads whole updates; this one takes them as they come, for `plain` to read.
#[derive(Debug, Clone, Serialize)]
struct Updates {
    #[serde(skip_serializing_if = "Option::is_none")]
    offset: Option<i32>,
    timeout: u64,
    allowed_updates: [AllowedUpdate; 3],
}

impl Payload for Updates {
    type Output = Vec<Value>;
    const NAME: &'static str = "GetUpdates";
}

/// One thing to be done in a chat.
#[derive(Debug, Clone, PartialEq)]
pub struct Call {
    pub chat: ChatId,
    pub act: Act,
}

#[derive(Debug, Clone, PartialEq)]
pub enum Act {
    Say {
        topic: Option<ThreadId>,
        /// The message to put it under.
        under: Option<MessageId>,
        html: String,
        keyboard: Option<InlineKeyboardMarkup>,
        silent: bool,
    },
    /// An edit without a keyboard takes the old one away.
    Edit {
        message: MessageId,
        html: String,
        keyboard: Option<InlineKeyboardMarkup>,
    },
    /// A picture with words beside it. What is printed goes as a file: Telegram makes other pixels of a photo, and drops
    /// its size; what is looked at goes as a photo, which shows in the chat by itself.
    Show {
        topic: Option<ThreadId>,
        under: Option<MessageId>,
        html: String,
        picture: Picture,
        silent: bool,
    },
    React {
        message: MessageId,
        emoji: String,
    },
    /// A message more than the answer now needs.
    Delete {
        message: MessageId,
    },
    /// Without sound: only people are worth one.
    Pin {
        message: MessageId,
    },
    Unpin {
        message: MessageId,
    },
}

impl Api {
    /// # Errors
    /// The address is none that HTTP can use.
    pub fn new(token: &Token, url: Option<&str>) -> Result<Self> {
        let local = url.is_some_and(is_loopback);
        let client = |timeout: Duration| {
            let builder = default_reqwest_settings().timeout(timeout);
            // No proxy can reach this machine's own loopback.
            let builder = if local { builder.no_proxy() } else { builder };
            builder.build().context("could not set up the HTTP client")
        };
        let calls = Bot::with_client(token.reveal(), client(Duration::from_secs(17))?);
        let polls = Bot::with_client(token.reveal(), client(POLL + Duration::from_secs(15))?);
        let Some(url) = url else {
            return Ok(Self { calls, polls });
        };
        let wrong = || format!("{url:?} is not the address of a Bot API server");
        ensure!(
            url.starts_with("http://") || url.starts_with("https://"),
            wrong()
        );
        let bare = url.trim_end_matches('/');
        Ok(Self {
            calls: calls.set_api_url(bare.parse().with_context(wrong)?),
            polls: polls.set_api_url(bare.parse().with_context(wrong)?),
        })
    }

    pub async fn me(&self) -> Result<Me, Trouble> {
        match self.calls.get_me().await {
            Ok(me) => Ok(Me {
                hears_all: me.can_read_all_group_messages,
                username: me.user.username.unwrap_or_default(),
            }),
            // A server older or newer than teloxide's type.
            Err(error) => serde_json::from_value(trouble::sort(error)?)
                .map_err(|error| Trouble::Server(error.to_string())),
        }
    }

    /// Wait for updates with numbers from `offset` on; the server forgets those before it.
    pub async fn updates(&self, offset: Option<i32>) -> Result<Vec<Arrived>, Trouble> {
        let poll = Updates {
            offset,
            timeout: POLL.as_secs(),
            allowed_updates: ALLOWED,
        };
        match JsonRequest::new(self.polls.clone(), poll).await {
            Ok(updates) => Ok(updates.iter().filter_map(plain::read).collect()),
            Err(error) => {
                trouble::sort(error)?;
                Err(Trouble::Server("updates that are no list".to_owned()))
            }
        }
    }

    /// Stop the waiting sign on a pressed button.
    pub async fn answer_press(&self, press: CallbackQueryId) -> Result<(), Trouble> {
        match self.calls.answer_callback_query(press).await {
            Ok(_) => Ok(()),
            Err(error) => trouble::sort(error).map(|_| ()),
        }
    }

    /// The id of the message that was sent or edited; none for a reaction or a deletion.
    /// `bot` is its own name, for links to a chat with it.
    pub async fn call(&self, call: Call, bot: &str) -> Result<Option<MessageId>, Trouble> {
        match call.act {
            Act::Say {
                topic,
                under,
                html,
                keyboard,
                silent,
            } => {
                let mut request = self
                    .calls
                    .send_message(call.chat, html)
                    .parse_mode(ParseMode::Html)
                    .link_preview_options(NO_PREVIEW);
                request.message_thread_id = topic;
                request.disable_notification = silent.then_some(true);
                request.reply_markup = keyboard.map(Into::into);
                request.reply_parameters =
                    under.map(|id| ReplyParameters::new(id).allow_sending_without_reply());
                message_id(request.await.map(|message| message.id))
            }
            Act::Edit {
                message,
                html,
                keyboard,
            } => {
                let mut request = self
                    .calls
                    .edit_message_text(call.chat, message, html)
                    .parse_mode(ParseMode::Html)
                    .link_preview_options(NO_PREVIEW);
                request.reply_markup = keyboard;
                message_id(request.await.map(|message| message.id))
            }
            Act::Show {
                topic,
                under,
                html,
                picture,
                silent,
            } => {
                let (name, to_see) = (picture.file_name(), picture.is_for_the_eye());
                let link = format!("https://t.me/{bot}?start=");
                let drawn = drawn(picture, Some(link)).await;
                let png = drawn.map_err(|error| Trouble::Refused(format!("{error:#}")))?;
                let file = InputFile::memory(png).file_name(name);
                let under = under.map(|id| ReplyParameters::new(id).allow_sending_without_reply());
                let silent = silent.then_some(true);
                let sent = if to_see {
                    let request = self.calls.send_photo(call.chat, file);
                    let mut request = request.caption(html).parse_mode(ParseMode::Html);
                    request.message_thread_id = topic;
                    request.disable_notification = silent;
                    request.reply_parameters = under;
                    request.await
                } else {
                    let request = self.calls.send_document(call.chat, file);
                    let mut request = request.caption(html).parse_mode(ParseMode::Html);
                    request.message_thread_id = topic;
                    request.disable_notification = silent;
                    request.reply_parameters = under;
                    request.await
                };
                message_id(sent.map(|message| message.id))
            }
            Act::React { message, emoji } => {
                let reaction = [ReactionType::Emoji { emoji }];
                let request = self.calls.set_message_reaction(call.chat, message);
                match request.reaction(reaction).await {
                    Ok(_) => Ok(None),
                    Err(error) => trouble::sort(error).map(|_| None),
                }
            }
            Act::Pin { message } => {
                let request = self.calls.pin_chat_message(call.chat, message);
                match request.disable_notification(true).await {
                    Ok(_) => Ok(None),
                    Err(error) => trouble::sort(error).map(|_| None),
                }
            }
            Act::Unpin { message } => {
                let request = self.calls.unpin_chat_message(call.chat);
                match request.message_id(message).await {
                    Ok(_) => Ok(None),
                    Err(error) => trouble::sort(error).map(|_| None),
                }
            }
            Act::Delete { message } => match self.calls.delete_message(call.chat, message).await {
                Ok(_) => Ok(None),
                Err(error) => trouble::sort(error).map(|_| None),
            },
        }
    }
}

const NO_PREVIEW: LinkPreviewOptions = LinkPreviewOptions {
    is_disabled: true,
    url: None,
    prefer_small_media: false,
    prefer_large_media: false,
    show_above_text: false,
};

fn message_id(sent: Result<MessageId, RequestError>) -> Result<Option<MessageId>, Trouble> {
    match sent {
        Ok(id) => Ok(Some(id)),
        Err(error) => {
            let id = trouble::sort(error)?["message_id"].as_i64();
            Ok(id.and_then(|id| i32::try_from(id).ok()).map(MessageId))
        }
    }
}

fn is_loopback(url: &str) -> bool {
    let host = url
        .split_once("://")
        .map_or(url, |(_, rest)| rest)
        .split('/')
        .next()
        .unwrap_or_default();
    let host = match host.strip_prefix('[') {
        Some(v6) => v6.split(']').next().unwrap_or_default(),
        None => host.split(':').next().unwrap_or_default(),
    };
    host == "localhost"
        || host
            .parse()
            .is_ok_and(|address: std::net::IpAddr| address.is_loopback())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn loopback_addresses_are_known() {
        for local in [
            "http://localhost:8081",
            "http://127.0.0.1:5/x",
            "http://[::1]:8081",
        ] {
            assert!(is_loopback(local), "{local}");
        }
        for remote in [
            "https://api.example.org",
            "http://10.0.0.5:8081",
            "http://localhost.example.org",
        ] {
            assert!(!is_loopback(remote), "{remote}");
        }
    }
}
