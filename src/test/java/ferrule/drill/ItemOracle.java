package ferrule.drill;

import ferrule.drill.item.Interaction;
import ferrule.drill.item.Option;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.naming.TermReader;
import ferrule.naming.Verdict;
import ferrule.procedure.Caution;
import ferrule.procedure.Precedence;
import ferrule.procedure.Procedure;
import ferrule.procedure.ProcedureBook;
import ferrule.procedure.Step;
import ferrule.procedure.StepId;
import ferrule.procedure.Tool;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/**
 * Says which options of an item are right, from what the item shows, the glossary, the procedures and the reader of
 * names; it asks nothing of those who write items, and does not look at their keys.
 */
final class ItemOracle {

  private static final Pattern READING =
      Pattern.compile("It must be from ([0-9.]+) (\\S+) to ([0-9.]+) \\S+\\. The gauge reads ([0-9.]+) ");
  private static final Pattern ODD = Pattern.compile("Which of these does not belong to the (.+)\\?");

  // common practice, no source: leadpipe, main tuning slide, third casing, second, first, bell
  private static final List<String> CASINGS = List.of("third", "second", "first");
  private static final List<String> ENTRIES =
      List.of("main tuning slide knuckle", "second to third casing knuckle", "first to second casing knuckle", "bell knuckle");

  private final Glossary glossary;
  private final ProcedureBook book;
  private final TermReader reader;

  ItemOracle(Glossary glossary, ProcedureBook book) {
    this.glossary = glossary;
    this.book = book;
    this.reader = TermReader.of(glossary);
  }

  /** The texts of the options that are right. */
  List<String> right(Item item, Set<ConceptId> shown) {
    Interaction.Choice choice = item.choice().orElseThrow();
    return switch (item.kind()) {
      case CHOOSE_NAME, LOOK_ALIKES -> texts(choice, o -> names(item.lit().orElseThrow(), o.text(), shown));
      case ASSEMBLY -> texts(choice, o -> within(item.lit().orElseThrow(), named(o.text())));
      case ODD_ONE_OUT -> odd(choice);
      case BRACE -> texts(choice, o -> o.text().equals(joined(item.lit().orElseThrow())));
      case AIR_PATH -> air(choice);
      case NEXT_STEP -> nextStep(choice);
      case LEFT_OUT -> leftOut(choice);
      case TOOL -> texts(choice, o -> stepOf(choice).tools().stream().map(Tool::name).anyMatch(o.text()::equals));
      case CAUTION ->
          texts(choice, o -> stepOf(choice).cautions().stream().map(Caution::title).anyMatch(o.text()::equals));
      case READING -> reading(choice);
      default -> throw new IllegalArgumentException("nothing is chosen in " + item);
    };
  }

  private static List<String> texts(Interaction.Choice choice, java.util.function.Predicate<Option> right) {
    return choice.options().stream().filter(right).map(Option::text).toList();
  }

  /** Whether a phrase could pass as the name of a part, be it too vaguely. */
  boolean names(ConceptId part, String phrase, Set<ConceptId> shown) {
    Verdict verdict = reader.judge(part, phrase, shown);
    return verdict.namesThePart() || verdict instanceof Verdict.TooVague;
  }

  /** The verdict's code on a phrase. */
  String verdict(ConceptId part, String phrase, Set<ConceptId> shown) {
    return reader.judge(part, phrase, shown).code();
  }

  private ConceptId named(String term) {
    List<ConceptId> found =
        glossary.concepts().stream().filter(c -> c.term().equals(term)).map(Concept::id).toList();
    if (found.size() != 1) {
      throw new AssertionError(found.size() + " concepts are called " + term);
    }
    return found.get(0);
  }

  private boolean within(ConceptId part, ConceptId whole) {
    return glossary.allWithin(whole).stream().map(Concept::id).anyMatch(part::equals);
  }

  private List<String> odd(Interaction.Choice choice) {
    Matcher stem = ODD.matcher(choice.stem());
    if (!stem.matches()) {
      throw new AssertionError("no assembly in " + choice.stem());
    }
    ConceptId assembly = named(stem.group(1));
    return texts(choice, o -> !within(named(o.text()), assembly));
  }

  private String joined(ConceptId brace) {
    return glossary.get(brace).joins().stream().map(p -> glossary.get(p).term()).sorted().collect(Collectors.joining(" and "));
  }

  /** The air's way from the main tuning slide to the bell: knuckles, ports of pistons that are up, slides otherwise. */
  private static List<String> way(Set<String> pressed) {
    List<String> way = new ArrayList<>(List.of(ENTRIES.get(0)));
    for (int i = 0; i < CASINGS.size(); i++) {
      String valve = CASINGS.get(i);
      way.add(pressed.contains(valve) ? valve + " slide assembly" : valve + " piston through port");
      way.add(ENTRIES.get(i + 1));
    }
    return way;
  }

  private static List<String> air(Interaction.Choice choice) {
    String stem = choice.stem();
    String about = stem.substring(0, stem.indexOf('.'));
    Set<String> pressed =
        about.startsWith("No ") ? Set.of() : CASINGS.stream().filter(about::contains).collect(Collectors.toSet());
    List<String> way = way(pressed);
    String rest = stem.substring(stem.indexOf('.') + 1);
    List<String> places = way.stream().filter(rest::contains).toList();
    if (places.size() != 1) {
      throw new AssertionError("the air is in " + places + ": " + stem);
    }
    List<String> ahead = way.subList(way.indexOf(places.get(0)) + 1, way.size());
    List<String> met = ahead.stream().filter(p -> choice.options().stream().anyMatch(o -> o.text().equals(p))).toList();
    // the next of the options on the way; the others come later or not at all
    return met.subList(0, Math.min(1, met.size()));
  }

  private Procedure procedureOf(String stem) {
    List<Procedure> found = book.procedures().stream().filter(p -> stem.startsWith(p.title() + ". ")).toList();
    if (found.size() != 1) {
      throw new AssertionError(found.size() + " procedures in " + stem);
    }
    return found.get(0);
  }

  private Step stepOf(Interaction.Choice choice) {
    Procedure procedure = procedureOf(choice.stem());
    List<Step> found =
        procedure.steps().stream()
            .filter(s -> choice.stem().endsWith("? " + s.name() + ": " + s.instruction())
                || choice.stem().endsWith("? " + s.name() + "."))
            .toList();
    if (found.size() != 1) {
      throw new AssertionError(found.size() + " steps in " + choice.stem());
    }
    return found.get(0);
  }

  private static Step step(Procedure procedure, String name) {
    return procedure.steps().stream().filter(s -> s.name().equals(name)).findFirst().orElseThrow();
  }

  private List<String> nextStep(Interaction.Choice choice) {
    Procedure procedure = procedureOf(choice.stem());
    Set<StepId> done = choice.given().stream().map(n -> step(procedure, n).id()).collect(Collectors.toSet());
    return texts(
        choice,
        o -> {
          Step s = step(procedure, o.text());
          return !done.contains(s.id()) && done.containsAll(before(procedure, s.id(), new HashSet<>()));
        });
  }

  /** All that comes before a step, directly or by way of others. */
  private static Set<StepId> before(Procedure procedure, StepId step, Set<StepId> found) {
    for (Precedence p : procedure.precedences()) {
      if (p.later().equals(step) && found.add(p.earlier())) {
        before(procedure, p.earlier(), found);
      }
    }
    return found;
  }

  private List<String> leftOut(Interaction.Choice choice) {
    Procedure procedure = procedureOf(choice.stem());
    List<String> missing = new ArrayList<>(procedure.steps().stream().map(Step::name).toList());
    missing.removeAll(choice.given());
    if (missing.size() != 1) {
      throw new AssertionError(missing + " are missing of " + choice.stem());
    }
    return texts(choice, o -> procedure.steps().stream().map(Step::name).anyMatch(o.text()::equals));
  }

  private static List<String> reading(Interaction.Choice choice) {
    Matcher m = READING.matcher(choice.stem());
    if (!m.find()) {
      throw new AssertionError("no reading in " + choice.stem());
    }
    BigDecimal reading = new BigDecimal(m.group(4));
    String right =
        reading.compareTo(new BigDecimal(m.group(1))) < 0
            ? "small"
            : reading.compareTo(new BigDecimal(m.group(3))) > 0 ? "large" : "within";
    return texts(choice, o -> o.text().contains(right));
  }

  /** Whether the order in which steps are shown breaks a precedence, and the listed one none. */
  Optional<String> faultOfOrdering(Item item) {
    Interaction.Ordering ordering = item.ordering().orElseThrow();
    Procedure procedure = procedureOf(ordering.stem());
    if (!Set.copyOf(ordering.shown()).equals(Set.copyOf(procedure.stepIds()))
        || ordering.shown().size() != procedure.steps().size()) {
      return Optional.of("not its steps, each once");
    }
    return breaks(procedure, ordering.shown()) ? Optional.empty() : Optional.of("the order shown works");
  }

  boolean breaks(Procedure procedure, List<StepId> order) {
    return procedure.precedences().stream().anyMatch(p -> order.indexOf(p.earlier()) > order.indexOf(p.later()));
  }

  /** The procedure that an item is about. */
  Procedure procedure(Item item) {
    return procedureOf(item.interaction().stem());
  }
}
