//! Arguments that cannot be read: what is wrong and what would be right, in a language.

use clap::error::{ContextKind, ContextValue, ErrorKind};

use crate::language::{Language, Phrase, phrase, say};

/// What is said of arguments that lead to no command: the help that was asked for, or what is wrong.
pub fn said(error: &clap::Error, language: Language) -> String {
    let options = say!(language, "[OPTIONS]");
    if matches!(
        error.kind(),
        ErrorKind::DisplayHelp
            | ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand
            | ErrorKind::DisplayVersion
    ) {
        return error.render().to_string().replace("[OPTIONS]", &options);
    }
    let mut lines = vec![format!(
        "{}: {}",
        say!(language, "error"),
        found(error).say(language)
    )];
    if let Some(wanted) = wanted(error) {
        let wanted = wanted.say(language);
        lines.push(format!(
            "    {}",
            say!(language, "right would be: {wanted}", wanted)
        ));
    }
    if let Some(near) = near(error) {
        let hint = say!(language, "perhaps `{near}` is meant", near);
        lines.push(format!("    {}", say!(language, "hint: {hint}", hint)));
    }
    if let Some(ContextValue::StyledStr(usage)) = error.get(ContextKind::Usage) {
        let usage = usage.to_string().replace("[OPTIONS]", &options);
        // The reader's own heading gives way to ours.
        let usage = usage.trim_start_matches("Usage:").trim();
        lines.push(String::new());
        lines.push(say!(language, "Usage: {usage}", usage));
    }
    lines.push(say!(language, "More is said by --help."));
    lines.join("\n") + "\n"
}

/// What an error holds of one kind.
fn parts(error: &clap::Error, kind: ContextKind) -> Vec<String> {
    match error.get(kind) {
        Some(ContextValue::String(text)) => vec![text.clone()],
        Some(ContextValue::Strings(texts)) => texts.clone(),
        _ => Vec::new(),
    }
}

/// What an error holds of one kind, as one text.
fn part(error: &clap::Error, kind: ContextKind) -> Option<String> {
    let parts = parts(error, kind);
    (!parts.is_empty()).then(|| parts.join(", "))
}

/// What is wrong.
fn found(error: &clap::Error) -> Phrase {
    let argument = part(error, ContextKind::InvalidArg);
    let value = part(error, ContextKind::InvalidValue).filter(|value| !value.is_empty());
    match (error.kind(), argument, value) {
        (ErrorKind::InvalidValue | ErrorKind::ValueValidation, Some(argument), Some(value)) => {
            phrase!("`{value}` is no value of `{argument}`", value, argument)
        }
        (ErrorKind::TooManyValues, Some(argument), Some(value)) => {
            phrase!(
                "`{argument}` takes no value such as `{value}`",
                argument,
                value
            )
        }
        (
            ErrorKind::InvalidValue
            | ErrorKind::TooFewValues
            | ErrorKind::WrongNumberOfValues
            | ErrorKind::NoEquals,
            Some(argument),
            _,
        ) => phrase!("`{argument}` lacks its value", argument),
        (ErrorKind::UnknownArgument, Some(argument), _) => {
            phrase!("`{argument}` is no argument here", argument)
        }
        (ErrorKind::MissingRequiredArgument, Some(argument), _) => {
            phrase!("`{argument}` is missing from the command", argument)
        }
        (ErrorKind::ArgumentConflict, Some(argument), _) => {
            phrase!("`{argument}` is given twice", argument)
        }
        (ErrorKind::InvalidSubcommand, ..) => {
            let command = part(error, ContextKind::InvalidSubcommand).unwrap_or_default();
            phrase!("`{command}` is no command", command)
        }
        (ErrorKind::MissingSubcommand, ..) => phrase!("the command is missing"),
        (ErrorKind::InvalidUtf8, ..) => phrase!("an argument that is not UTF-8 text"),
        _ => phrase!(
            "the arguments cannot be read: `{reason}`",
            reason = error.kind().to_string()
        ),
    }
}

/// What would be right.
fn wanted(error: &clap::Error) -> Option<Phrase> {
    let argument = part(error, ContextKind::InvalidArg).unwrap_or_default();
    let names =
        part(error, ContextKind::ValidValue).or_else(|| part(error, ContextKind::ValidSubcommand));
    match names {
        Some(names) => Some(phrase!("one of {names}§words", names)),
        None if argument.starts_with("--dpi ") => Some(phrase!(
            "a number of dots per inch, such as {example}",
            example = "110"
        )),
        None if argument.starts_with("--threads ") => Some(phrase!("a whole number, 1 or more")),
        None => None,
    }
}

/// What may have been meant.
fn near(error: &clap::Error) -> Option<String> {
    let kinds = [
        ContextKind::SuggestedArg,
        ContextKind::SuggestedValue,
        ContextKind::SuggestedSubcommand,
    ];
    // The likeliest comes last.
    let near = kinds.into_iter().flat_map(|kind| parts(error, kind));
    near.last()
}
