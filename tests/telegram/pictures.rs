//! Labels arrive as files, and what is scanned from them opens the chat at the batch; charts arrive as photos.

use std::io::Cursor;

use hobside::render;
use serde_json::{Value, json};

use crate::kitchen::{Chat, Kitchen};
use crate::server::{Call, Fault, USERNAME};

fn sent(kitchen: &Kitchen, count: usize) -> Vec<Call> {
    kitchen.server.wait("a file", |state| {
        let sent = state.calls_of("senddocument");
        let all = sent.len() == count && sent.iter().all(|call| call.answer.is_some());
        all.then_some(sent)
    })
}

fn bytes(call: &Call) -> Vec<u8> {
    let bytes = call.params["document"]["bytes"].as_array().expect("a file");
    let byte = |value: &Value| u8::try_from(value.as_u64().expect("a byte")).expect("a byte");
    bytes.iter().map(byte).collect()
}

/// What a decoder of its own reads from the picture.
fn scanned(png: Vec<u8>) -> String {
    let mut decoder = png::Decoder::new(Cursor::new(png));
    decoder.set_transformations(png::Transformations::EXPAND);
    let mut reader = decoder.read_info().expect("a PNG");
    let mut grey = vec![0; reader.output_buffer_size().expect("it fits")];
    let frame = reader.next_frame(&mut grey).expect("whole");
    let (width, height) = (frame.width as usize, frame.height as usize);
    let mut image =
        rqrr::PreparedImage::prepare_from_greyscale(width, height, |x, y| grey[y * width + x]);
    let grids = image.detect_grids();
    grids[0].decode().expect("it reads").1
}

#[test]
fn a_label_is_a_file_and_its_code_opens_the_batch() {
    let (kitchen, robin) = Kitchen::with_barley();
    robin.says("label barley");
    let label = &sent(&kitchen, 1)[0];
    assert_eq!(label.params["document"]["file_name"], json!("label-B1.png"));
    robin.hears("barley B1, 1480 g");
    let link = scanned(bytes(label));
    let payload = link.strip_prefix(&format!("https://t.me/{USERNAME}?start="));
    // What Telegram sends for somebody who opens such a link.
    robin.says(&format!("/start {}", payload.expect("a link to this bot")));
    robin.hears("Allergens: barley (gluten)");
}

#[test]
fn a_chat_that_takes_no_files_gets_the_words() {
    let (kitchen, robin) = Kitchen::with_barley();
    let refused = r#"{"ok":false,"error_code":400,"description":"Bad Request: not enough rights to send documents to the chat"}"#;
    kitchen
        .server
        .fault("senddocument", Fault::Answer(400, refused));
    robin.says("label barley");
    robin.hears("barley B1, 1480 g");
    let words = kitchen.server.state().calls_of("sendmessage");
    assert!(
        words.iter().any(|call| call.text().contains("62 x 40 mm")),
        "{words:?}"
    );
}

#[test]
fn the_bags_of_one_batch_are_labelled_one_by_one() {
    let (kitchen, robin) = Kitchen::with_barley();
    robin.says("froze the barley in two bags, 700 and 780");
    robin.hears("780 g barley");
    robin.says("label barley in the freezer");
    let labels = sent(&kitchen, 2);
    let captions: Vec<&str> = labels
        .iter()
        .filter_map(|call| call.params["caption"].as_str())
        .collect();
    assert!(captions[0].starts_with("barley B1, 700 g"), "{captions:?}");
    assert!(captions[1].starts_with("barley B1, 780 g"), "{captions:?}");
}

#[test]
fn a_label_of_another_table_is_looked_up_there() {
    let (kitchen, robin) = Kitchen::with_barley();
    // The first group takes over the kitchen that Robin has kept alone, the second has one of its own.
    let join = |id: i64| {
        let group = Chat::group(&kitchen.server, id, "Robin");
        group.says(&format!("/start {}", kitchen.invite()));
        group.hears(&render::invite_accepted());
        group
    };
    join(-77);
    let club = join(-88);
    club.says("batch soup, 900 g leeks, cooked 2000");
    club.hears("2000 g net");
    club.says("label soup");
    let link = scanned(bytes(&sent(&kitchen, 1)[0]));
    let payload = link.strip_prefix(&format!("https://t.me/{USERNAME}?start="));
    robin.says(&format!("/start {}", payload.expect("a link to this bot")));
    robin.hears("soup S1");
    robin.says("what's left");
    robin.hears("barley B1");
}

#[test]
fn a_chart_is_a_photo_with_its_numbers_below_and_holds_nothing_up() {
    let (kitchen, robin) = Kitchen::with_barley();
    robin.says("200 barley");
    robin.hears("barley");
    robin.says("my week");
    robin.says("stock chart");
    robin.says("how much barley");
    let photos = kitchen.server.wait("photos", |state| {
        let sent = state.calls_of("sendphoto");
        let all = sent.len() == 2 && sent.iter().all(|call| call.answer.is_some());
        all.then_some(sent)
    });
    let caption = |call: &Call| call.params["caption"].as_str().map(str::to_owned);
    let captions: Vec<String> = photos.iter().filter_map(caption).collect();
    assert!(captions[0].contains("1. barley: "), "{captions:?}");
    assert!(captions[1].contains("now: 1280 g"), "{captions:?}");
    assert_eq!(photos[0].params["photo"]["file_name"], json!("chart.png"));
    assert!(kitchen.server.state().calls_of("senddocument").is_empty());
    robin.hears("1280 g");
}

#[test]
fn a_chat_that_takes_no_photos_gets_the_numbers() {
    let (kitchen, robin) = Kitchen::with_barley();
    let refused = r#"{"ok":false,"error_code":400,"description":"Bad Request: not enough rights to send photos to the chat"}"#;
    kitchen
        .server
        .fault("sendphoto", Fault::Answer(400, refused));
    robin.says("stock chart");
    robin.hears("now: 1480 g");
}
