//! The table of words: what each English phrase is in Spanish and French.
//!
//! In: the files of `words/`, each a mapping from the English template to `es` and `fr`, embedded in
//! the program and read once, when a language other than English is first asked for. Out: the
//! template in a language. A phrase without a row is said in English; a test lets none pass.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use serde::Deserialize;

use super::Language;

/// The files of the table, by topic.
pub(super) const FILES: &[&str] = &[
    include_str!("words/work.yaml"),
    include_str!("words/tables.yaml"),
    include_str!("words/checks.yaml"),
    include_str!("words/assumed.yaml"),
    include_str!("words/views.yaml"),
    include_str!("words/panels.yaml"),
    include_str!("words/terminal.yaml"),
    include_str!("words/misread.yaml"),
    include_str!("words/measured.yaml"),
    include_str!("words/outlines.yaml"),
    include_str!("words/finish.yaml"),
    include_str!("words/blocks.yaml"),
    include_str!("words/file.yaml"),
    include_str!("words/yaml.yaml"),
    include_str!("words/arguments.yaml"),
];

/// What a phrase is in the other languages.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Row {
    /// In Spanish.
    pub es: String,
    /// In French.
    pub fr: String,
}

/// Every row of the table, by its English template.
pub fn rows() -> &'static BTreeMap<String, Row> {
    static ROWS: OnceLock<BTreeMap<String, Row>> = OnceLock::new();
    ROWS.get_or_init(|| {
        let mut rows = BTreeMap::new();
        for file in FILES {
            let more: BTreeMap<String, Row> =
                serde_yaml::from_str(file).expect("the table of words is well written");
            rows.extend(more);
        }
        rows
    })
}

/// The template in a language.
pub(super) fn text(template: &'static str, language: Language) -> &'static str {
    let row = match language {
        Language::Spanish | Language::French => rows().get(template),
        _ => None,
    };
    match (row, language) {
        (Some(row), Language::Spanish) => &row.es,
        (Some(row), Language::French) => &row.fr,
        _ => template,
    }
}

/// The template with these words, when there is one.
pub(super) fn template(words: &str) -> Option<&'static str> {
    let (template, _) = rows().get_key_value(words)?;
    Some(template)
}
