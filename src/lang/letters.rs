//! Kinds of characters, and the folding of letters: small, without accents.

/// Characters that show nothing: zero width spaces and joiners, direction marks, variation selectors.
pub fn is_invisible(c: char) -> bool {
    matches!(c,
        '\u{00AD}' | '\u{034F}' | '\u{061C}' | '\u{115F}' | '\u{1160}' | '\u{17B4}' | '\u{17B5}' | '\u{180B}'..='\u{180E}'
        | '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2060}'..='\u{206F}' | '\u{FE00}'..='\u{FE0F}'
        | '\u{FEFF}' | '\u{FFF9}'..='\u{FFFB}' | '\u{E0000}'..='\u{E0FFF}' | '\u{20E3}')
}

pub fn is_line_break(c: char) -> bool {
    matches!(
        c,
        '\n' | '\r' | '\u{0B}' | '\u{0C}' | '\u{85}' | '\u{2028}' | '\u{2029}'
    )
}

pub fn is_apostrophe(c: char) -> bool {
    matches!(c, '\'' | '’' | '‘' | 'ʼ' | '´' | '`' | '＇')
}

pub fn is_combining(c: char) -> bool {
    matches!(c, '\u{0300}'..='\u{036F}')
}

/// Superscripts, circled digits, digits of scripts that are not read: numeric, and no number.
pub fn is_odd_numeric(c: char) -> bool {
    c.is_numeric() && !c.is_alphabetic()
}

/// Fold one letter: small, without accent.
pub fn fold_into(out: &mut String, c: char) {
    if c.is_ascii() {
        out.push(c.to_ascii_lowercase());
        return;
    }
    for small in c.to_lowercase() {
        match small {
            'à'..='å' | 'ā' | 'ă' | 'ą' => out.push('a'),
            'æ' => out.push_str("ae"),
            'ç' | 'ć' | 'č' => out.push('c'),
            'è'..='ë' | 'ē' | 'ė' | 'ę' | 'ě' => out.push('e'),
            'ì'..='ï' | 'ī' | 'į' => out.push('i'),
            'ı' => out.push('i'),
            'ñ' | 'ń' | 'ň' => out.push('n'),
            'ò'..='ö' | 'ø' | 'ō' | 'ő' => out.push('o'),
            'œ' => out.push_str("oe"),
            'ù'..='ü' | 'ū' | 'ů' | 'ű' => out.push('u'),
            'ý' | 'ÿ' => out.push('y'),
            'ß' => out.push_str("ss"),
            'ś' | 'š' | 'ş' => out.push('s'),
            'ź' | 'ż' | 'ž' => out.push('z'),
            'ł' => out.push('l'),
            'ř' => out.push('r'),
            'ğ' => out.push('g'),
            'ａ'..='ｚ' => out.push(char::from(b'a' + (small as u32 - 'ａ' as u32) as u8)),
            _ if is_combining(small) => {}
            _ => out.push(small),
        }
    }
}
