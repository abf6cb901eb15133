#include "cli/run.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <charconv>
#include <cstdint>
#include <exception>
#include <functional>
#include <new>

#include "cli/commands.h"
#include "fault/fault.h"

namespace motley::cli {

namespace {

/// Checks the word itself: CLI11's own conversion lets "-1" pass for a seed.
CLI::Validator whole(std::uint64_t least, std::uint64_t most) {
    return CLI::Validator(
        [=](const std::string& word) {
            std::uint64_t number = 0;
            const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), number);
            if (error == std::errc() && end == word.data() + word.size() && number >= least && number <= most)
                return std::string();
            return fmt::format("found \"{}\", give a whole number from {} to {}", word, least, most);
        },
        "");
}

CLI::Validator number(double least, double most) {
    return CLI::Validator(
        [=](const std::string& word) {
            double found = 0;
            const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), found);
            if (error == std::errc() && end == word.data() + word.size() && found >= least && found <= most)
                return std::string();
            return fmt::format("found \"{}\", give a number from {} to {}", word, least, most);
        },
        "");
}

void add_search_options(CLI::App& command, Words& words) {
    command
        .add_option("--seed", words.seed,
                    "Where chance starts; the same seed gives the same quilt (the plan's own, or 1)")
        ->check(whole(0, UINT64_MAX))
        ->type_name("N");
    command
        .add_option("--seconds", words.seconds,
                    "Search this long; the result then depends on the machine's speed")
        ->check(number(0.01, 86'400))
        ->type_name("S");
}

void add_running_options(CLI::App& command, Words& words) {
    command
        .add_option("--threads", words.threads,
                    "Threads to work on (as many as the machine has cores); never changes the result")
        ->check(whole(1, 256))
        ->type_name("T");
    command.add_option("--megapixels", words.megapixels, "Largest photo to open, in megapixels (100)")
        ->check(number(1, 4000))
        ->type_name("M");
}

void add_pixels(CLI::App& command, Words& words) {
    command
        .add_option("--pixels", words.pixels, "Longest side of the quilt in the pictures, in pixels (1600)")
        ->check(whole(64, 20'000))
        ->type_name("N");
}

void add_json(CLI::App& command, Words& words) {
    command.add_flag("--json", words.json, "The result as one JSON value");
}

/// The commands, and what each does once parsed.
class Program {
public:
    Program()
        : app_(
              "Plans a scrappy quilt: photos of fabrics in; an even, repeat-free layout, a picture and "
              "counts out.",
              "motley") {
        app_.set_version_flag("--version", "motley " + pipeline::version());
        app_.require_subcommand(1);
        app_.set_help_flag("--help,-h", "Tells what there is");

        CLI::App& make_command = add("make", "The whole job: measure the photos, place, draw, count", make);
        take_plan(make_command);
        make_command.add_option("--out", words_.out, "Folder for the files (renders/<the plan's name>)")
            ->type_name("DIR");
        make_command
            .add_option("--candidates", words_.candidates,
                        "So many layouts that differ visibly, on one sheet")
            ->check(whole(1, 60))
            ->type_name("K");
        add_search_options(make_command, words_);
        add_pixels(make_command, words_);
        add_running_options(make_command, words_);
        add_json(make_command, words_);

        CLI::App& swatch_command =
            add("swatch", "Measures photos of fabrics, and keeps them in a palette if asked", swatch);
        swatch_command.add_option("photos", words_.photos, "Photos, or folders of photos")
            ->type_name("PHOTO");
        swatch_command
            .add_option("--palette", words_.palette, "Keep the measures in this folder's palette.json")
            ->type_name("DIR");
        swatch_command
            .add_option("--split", words_.split,
                        "So many fabrics lie in the one photo: cut each out into the palette")
            ->check(whole(1, 400))
            ->type_name("N");
        swatch_command
            .add_option("--names", words_.names,
                        "Their names in reading order: with commas, or a file with one name a line")
            ->type_name("NAMES");
        swatch_command
            .add_option("--out", words_.out,
                        "File for the photo with numbered outlines (split.png in the palette)")
            ->type_name("FILE");
        swatch_command
            .add_option("--width", words_.width, "How wide each fabric in the photos is (5 in, 12 cm)")
            ->type_name("LENGTH");
        swatch_command
            .add_option("--ruler", words_.ruler,
                        "What the ruler on your printed card measures, where it is not 6 in (5 7/8 in)")
            ->type_name("LENGTH");
        add_running_options(swatch_command, words_);
        add_json(swatch_command, words_);

        CLI::App& place_command = add("place", "Only the layout", place);
        take_plan(place_command);
        place_command.add_option("--out", words_.out, "File for the layout (otherwise it is printed)")
            ->type_name("FILE");
        add_search_options(place_command, words_);
        add_running_options(place_command, words_);
        add_json(place_command, words_);

        CLI::App& mend_command =
            add("mend", "Meets the plan again after a shortage or a change, moving as few units as possible",
                mend);
        take_layout(mend_command);
        mend_command
            .add_option(
                "--short", words_.shortages,
                "So many patches of a fabric are missing, such as plum=3; may be said again for another")
            ->type_name("FABRIC=N")
            ->take_all()
            ->expected(1)
            ->allow_extra_args(false);
        mend_command.add_option("--out", words_.out, "File for the new layout (otherwise it is printed)")
            ->type_name("FILE");
        add_json(mend_command, words_);

        CLI::App& draw_command = add("draw", "Pictures of a stored layout", draw);
        take_layout(draw_command);
        draw_command.add_option("--out", words_.out, "Folder for the pictures (the layout's own)")
            ->type_name("DIR");
        draw_command
            .add_option("--palette", words_.palette,
                        "Folder of the photos, where it is not found from the layout")
            ->type_name("DIR");
        add_pixels(draw_command, words_);
        add_running_options(draw_command, words_);
        add_json(draw_command, words_);

        CLI::App& count_command = add("count", "How many of each fabric a stored layout takes", count);
        take_layout(count_command);
        count_command.add_option("--out", words_.out, "Folder for counts.csv")->type_name("DIR");
        add_json(count_command, words_);

        CLI::App& cut_command = add("cut", "The cutting plan of any cut list, and what to buy for it", cut);
        cut_command.add_option("cuts", words_.input, "The cut list, a JSON file")
            ->required()
            ->type_name("CUTS");
        add_json(cut_command, words_);

        CLI::App& recipes_command =
            add("recipes", "The ways to sew a unit: pieces, cut sizes, steps, yield", recipes);
        recipes_command.add_option("name", words_.name, "One of them, or a recipe file of your own")
            ->type_name("NAME");
        recipes_command.add_option("--finished", words_.finished, "Finished size of the unit (6 in, 15 cm)")
            ->type_name("LENGTH");
        recipes_command.add_option("--seam", words_.seam, "Seam allowance (1/4 in, 7.5 mm)")
            ->type_name("LENGTH");
        recipes_command
            .add_option("--width", words_.usable_width, "Usable width of the cloth (42 in, 105 cm)")
            ->type_name("LENGTH");
        recipes_command.add_option("--units", words_.units, "What so many units take")
            ->check(whole(1, 1'000'000))
            ->type_name("N");
        recipes_command
            .add_option("--choose", words_.choices,
                        "A choice of the recipe, such as strips=4; may be said again for another")
            ->type_name("NAME=VALUE")
            ->take_all()
            ->expected(1)
            ->allow_extra_args(false);
        recipes_command.add_flag("--metric", words_.metric, "Tell lengths in centimetres");
        recipes_command.add_option("--draw", words_.draw, "Draw every step into this folder")
            ->type_name("DIR");
        add_json(recipes_command, words_);

        CLI::App& wall_command =
            add("wall", "The design wall in a browser, served to this machine only", wall);
        wall_command
            .add_option("plan", words_.input,
                        "A plan, or a project's folder; a new project begins in the folder \"quilt\"")
            ->type_name("PLAN");
        wall_command.add_option("--port", words_.port, "Port to listen on (any that is free)")
            ->check(whole(1, 65'535))
            ->type_name("N");
        wall_command.add_flag("--no-open", words_.no_open, "Only tell the address, open no browser");
        add_running_options(wall_command, words_);

        CLI::App& card_command = add("card", "A card to print, for photographing fabrics on", card);
        card_command.add_option("--out", words_.out, "File for the page (card.pdf)")->type_name("FILE.pdf");
        card_command.add_option("--paper", words_.paper, "letter or a4 (letter)")->type_name("PAPER");
        card_command.add_flag("--small", words_.small, "A small card, to be laid on large pieces");

        CLI::App& check_command =
            add("check", "Is the plan readable, and can it be met? Says why not", check);
        take_plan(check_command);
        add_running_options(check_command, words_);
        add_json(check_command, words_);
    }

    int run(const std::vector<std::string>& words, const Streams& streams) {
        std::vector<std::string> reversed(words.rbegin(), words.rend()); // As CLI11 wants them.
        try {
            app_.parse(reversed);
        } catch (const CLI::CallForHelp& help) {
            return app_.exit(help, streams.out, streams.err);
        } catch (const CLI::CallForAllHelp& help) {
            return app_.exit(help, streams.out, streams.err);
        } catch (const CLI::CallForVersion& version) {
            return app_.exit(version, streams.out, streams.err);
        } catch (const CLI::ParseError& error) {
            throw Fault(Cause::input, "", wrong_words(error, words), remedy(words));
        }
        for (const auto& [command, action] : actions_)
            if (command->parsed()) return action(words_, streams);
        return static_cast<int>(Cause::input);
    }

private:
    using Action = std::function<int(const Words&, const Streams&)>;

    CLI::App& add(const std::string& name, const std::string& duty, Action action) {
        CLI::App* command = app_.add_subcommand(name, duty);
        actions_.emplace_back(command, std::move(action));
        return *command;
    }

    void take_plan(CLI::App& command) {
        command.add_option("plan", words_.input, "The plan, a JSON file")->required()->type_name("PLAN");
    }
    void take_layout(CLI::App& command) {
        command.add_option("layout", words_.input, "A layout.json, as make leaves it")
            ->required()
            ->type_name("LAYOUT");
    }

    /// What is wrong with the words, with the nearest known one where a word is not known.
    std::string wrong_words(const CLI::ParseError& error, const std::vector<std::string>& words) const {
        if (words.empty()) return "a command is missing";
        const CLI::App* command = command_of(words);
        if (!command) {
            const std::string near = nearest(words.front(), command_names());
            return fmt::format("there is no command \"{}\"{}", words.front(),
                               near.empty() ? "" : fmt::format("; did you mean {}?", near));
        }
        std::vector<std::string> known;
        for (const CLI::Option* option : command->get_options())
            for (const std::string& name : option->get_lnames()) known.push_back("--" + name);
        for (const std::string& word : words) {
            const std::string name = word.substr(0, word.find('='));
            if (!word.starts_with("--") || std::find(known.begin(), known.end(), name) != known.end())
                continue;
            const std::string near = nearest(name, known);
            return fmt::format("{} has no option {}{}", words.front(), name,
                               near.empty() ? "" : fmt::format("; did you mean {}?", near));
        }
        return fmt::format("{}: {}", words.front(), error.what());
    }

    std::string remedy(const std::vector<std::string>& words) const {
        if (command_of(words)) return fmt::format("\"motley {} --help\" tells what it takes", words.front());
        return fmt::format("the commands are {}; \"motley --help\" tells more",
                           fmt::join(command_names(), ", "));
    }

    const CLI::App* command_of(const std::vector<std::string>& words) const {
        if (words.empty()) return nullptr;
        for (const auto& [command, action] : actions_)
            if (command->get_name() == words.front()) return command;
        return nullptr;
    }

    std::vector<std::string> command_names() const {
        std::vector<std::string> names;
        for (const auto& [command, action] : actions_) names.push_back(command->get_name());
        return names;
    }

    CLI::App app_;
    Words words_;
    std::vector<std::pair<CLI::App*, Action>> actions_;
};

} // namespace

int run(const std::vector<std::string>& words, const Streams& streams) {
    try {
        return Program().run(words, streams);
    } catch (const Fault& fault) {
        streams.err << "motley: " << fault.what() << '\n';
        return static_cast<int>(fault.cause());
    } catch (const std::bad_alloc&) {
        streams.err << "motley: there is not enough memory for this; close other programs, or make the plan "
                       "or the photos smaller\n";
    } catch (const std::exception& error) {
        streams.err << "motley: " << error.what() << '\n';
    }
    return static_cast<int>(Cause::system);
}

} // namespace motley::cli
