//! What the program says of itself: the help of each command and option, in a language.

use clap::{Arg, Command};

use crate::language::{Language, Phrase, phrase, say};

/// The program's arguments with every word in a language.
pub fn worded(command: Command, language: Language) -> Command {
    let about = about(command.get_name()).say(language);
    // Places that the reader of the arguments fills itself.
    let usage = say!(language, "Usage: {usage}", usage = "{usage}");
    let template = format!("{{about-with-newline}}\n{usage}\n\n{{all-args}}");
    command
        .about(about)
        .help_template(template)
        .subcommand_help_heading(say!(language, "Commands"))
        .subcommand_value_name(say!(language, "COMMAND"))
        .disable_help_flag(true)
        .disable_help_subcommand(true)
        .disable_version_flag(true)
        .mut_args(|arg| worded_argument(arg, language))
        .mut_subcommands(|command| worded(command, language))
}

/// An argument with its words in a language.
fn worded_argument(arg: Arg, language: Language) -> Arg {
    let heading = match arg.is_positional() {
        true => say!(language, "Arguments"),
        false => say!(language, "Options"),
    };
    let arg = arg.help_heading(heading);
    let words = help(arg.get_id().as_str()).say(language);
    if !arg.get_action().takes_values() {
        return arg.help(words);
    }
    let names = arg.get_possible_values();
    let names: Vec<&str> = names.iter().map(|value| value.get_name()).collect();
    let names = names.join(", ");
    let default = arg.get_default_values().first();
    let default = default.map(|value| value.to_string_lossy().into_owned());
    let words = match (names.is_empty(), default) {
        (true, None) => words,
        (true, Some(default)) => say!(language, "{words} [default: {default}]", words, default),
        (false, None) => say!(language, "{words} [values: {names}]", words, names),
        (false, Some(default)) => say!(
            language,
            "{words} [values: {names}; default: {default}]",
            words,
            names,
            default
        ),
    };
    let name = arg.get_value_names().and_then(<[_]>::first);
    let name = name.map_or_else(Phrase::default, |name| value_name(name));
    arg.help(words)
        .value_name(name.say(language))
        .hide_default_value(true)
        .hide_possible_values(true)
}

/// What a command does.
fn about(command: &str) -> Phrase {
    match command {
        "draw" => {
            phrase!("Draw the sheets of one or more jobs, with the report and the takeoff.")
        }
        "check" => phrase!("Print the checks of one or more jobs; write nothing."),
        "new" => phrase!(
            "Write a commented starter job that draws as it is; never over a file that is there."
        ),
        "help" => phrase!("Say how a command is used."),
        _ => phrase!(
            "Draws the construction sheet of a paver surface on base panels from one YAML job file."
        ),
    }
}

/// What an argument is for.
fn help(argument: &str) -> Phrase {
    match argument {
        "jobs" => phrase!("The job files."),
        "out" => phrase!("Folder the outputs go to."),
        "png" => phrase!("Write a PNG of each sheet too."),
        "dpi" => phrase!("Resolution of the PNG, in dots per inch."),
        "threads" => phrase!(
            "Most threads to work on, where not all that the machine has. The outputs are the same."
        ),
        "tile" => phrase!(
            "Print the sheets at true scale over several pages of a small paper too, as NAME.tiles.pdf."
        ),
        "takeoff" => phrase!(
            "Print the takeoff too: what to order, how it was got, what it weighs and costs."
        ),
        "file" => phrase!("The job file to write."),
        "of" => phrase!("The command to tell of."),
        "language" => {
            phrase!("Language of what is said on the terminal; sheets are in that of their job.")
        }
        "help" => phrase!("Print this help."),
        "version" => phrase!("Print the version."),
        _ => Phrase::default(),
    }
}

/// What stands for a value in the help.
fn value_name(name: &str) -> Phrase {
    match name {
        "JOB" => phrase!("JOB"),
        "DIR" => phrase!("DIR"),
        "COUNT" => phrase!("COUNT"),
        "PAPER" => phrase!("PAPER"),
        "LANGUAGE" => phrase!("LANGUAGE"),
        "NAME.yaml" => phrase!("NAME.yaml"),
        "COMMAND" => phrase!("COMMAND"),
        other => Phrase::own(other),
    }
}
