package ferrule.procedure;

import ferrule.procedure.ProcedureItem.Asks;
import ferrule.procedure.ProcedureItem.Choice;
import ferrule.procedure.ProcedureItem.Option;
import ferrule.procedure.ProcedureItem.PutInOrder;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * Makes questions from procedures. The same procedure and seed give the same question.
 *
 * <p>A wrong option is taken only where the procedures themselves say that it is wrong: a step whose predecessors are
 * not all done; a step that takes a tool or material that few works take and this one has no use for; a tool of another
 * kind than all that the step takes; a caution that the whole work does not call for. Where that leaves fewer than three
 * wrong options, or the question would say its own answer, there is no question.
 */
public final class ProcedureItems {

  private static final int WRONG_OPTIONS = 3;
  private static final int FEW_WORKS = 3;
  private static final int TELLING_LETTERS = 4;

  private final List<Procedure> procedures;
  private final ToolCrib crib;
  private final Cautions cautions;
  // reckoned once for each procedure: they do not depend on the seed
  private final Map<ProcedureId, LinearExtensions> orders = new ConcurrentHashMap<>();
  private final Map<ProcedureId, List<Option>> strangers = new ConcurrentHashMap<>();

  /**
   * Questions from these procedures.
   *
   * @param procedures of one instrument
   * @param crib that their tools are from
   * @param cautions that theirs are from
   */
  public ProcedureItems(List<Procedure> procedures, ToolCrib crib, Cautions cautions) {
    this.procedures = List.copyOf(procedures);
    this.crib = crib;
    this.cautions = cautions;
  }

  /** The steps in an order that does not work, to be put right; empty if every order of them works. */
  public Optional<PutInOrder> putInOrder(Procedure procedure, long seed) {
    if (procedure.precedences().isEmpty()) {
      return Optional.empty();
    }
    Random random = new Random(seed);
    List<Integer> sequence = new ArrayList<>();
    for (int i = 0; i < procedure.steps().size(); i++) {
      sequence.add(i);
    }
    while (procedure.order().isKeptBy(sequence)) {
      Collections.shuffle(sequence, random);
    }
    return Optional.of(
        new PutInOrder(procedure.id(), sequence.stream().map(procedure.stepIds()::get).toList()));
  }

  /** A question of this sort; empty if the procedure yields none for this seed. */
  public Optional<Choice> choice(Procedure procedure, Asks asks, long seed) {
    Random random = new Random(seed);
    return switch (asks) {
      case NEXT_STEP -> nextStep(procedure, random);
      case STEP_LEFT_OUT -> stepLeftOut(procedure, random);
      case TOOL -> tool(procedure, random);
      case CAUTION -> caution(procedure, random);
    };
  }

  private Optional<Choice> nextStep(Procedure procedure, Random random) {
    List<StepId> sequence = randomOrder(procedure, random);
    List<Integer> cuts = new ArrayList<>();
    for (int cut = 1; cut < sequence.size(); cut++) {
      if (tooEarly(procedure, sequence.subList(0, cut)).size() >= WRONG_OPTIONS) {
        cuts.add(cut);
      }
    }
    if (cuts.isEmpty()) {
      return Optional.empty();
    }
    int cut = cuts.get(random.nextInt(cuts.size()));
    List<StepId> done = sequence.subList(0, cut);
    Step next = procedure.step(sequence.get(cut));
    Option key =
        new Option(next.id().value(), next.name(), true, "All that must come before it has been done.");
    List<Option> wrong = tooEarly(procedure, done).stream().map(step -> tooEarly(procedure, step, done)).toList();
    return Optional.of(new Choice(
        procedure.id(), Asks.NEXT_STEP, done, "These steps have been done. Which of the others can come next?",
        options(key, wrong, random)));
  }

  private List<StepId> randomOrder(Procedure procedure, Random random) {
    return orders.computeIfAbsent(procedure.id(), id -> LinearExtensions.of(procedure.order()))
        .random(random).stream().map(procedure.stepIds()::get).toList();
  }

  private static List<StepId> tooEarly(Procedure procedure, List<StepId> done) {
    return procedure.stepIds().stream()
        .filter(step -> !done.contains(step))
        .filter(step -> procedure.before(step).stream().anyMatch(p -> !done.contains(p.earlier())))
        .toList();
  }

  private static Option tooEarly(Procedure procedure, StepId step, List<StepId> done) {
    Precedence missing =
        procedure.before(step).stream().filter(p -> !done.contains(p.earlier())).findFirst().orElseThrow();
    return new Option(step.value(), procedure.step(step).name(), false, sentence(missing.objection()));
  }

  private Optional<Choice> stepLeftOut(Procedure procedure, Random random) {
    List<StepId> shown = new ArrayList<>(randomOrder(procedure, random));
    Step missing = procedure.step(shown.remove(random.nextInt(shown.size())));
    Option key = new Option(missing.id().value(), missing.name(), true, sentence(missing.instruction()));
    return enough(strangers.computeIfAbsent(procedure.id(), id -> strangers(procedure)), missing.name())
        .map(wrong -> new Choice(
            procedure.id(), Asks.STEP_LEFT_OUT, shown, "One step of the work is missing here. Which one?",
            options(key, wrong, random)));
  }

  private List<Option> strangers(Procedure procedure) {
    return procedures.stream()
        .filter(other -> !other.id().equals(procedure.id()))
        .flatMap(other -> strangers(procedure, other))
        .toList();
  }

  private Stream<Option> strangers(Procedure procedure, Procedure other) {
    return other.steps().stream()
        .flatMap(step -> outOfPlace(procedure, step).stream()
            .map(thing -> new Option(
                other.id() + "/" + step.id(), step.name(), false,
                "What it takes has no place in this work: " + thing + ".")));
  }

  // A lamp, a cloth or a ticket has its place in any work; only what few works take tells that a step is strange.
  private Optional<String> outOfPlace(Procedure procedure, Step step) {
    Stream<String> tools =
        step.tools().stream()
            .filter(t -> procedure.tools().stream().noneMatch(own -> own.kind().equals(t.kind())))
            .filter(t -> isSpecial(p -> p.tools().contains(t)))
            .map(Tool::name);
    Stream<String> materials =
        step.materials().stream()
            .filter(m -> !procedure.materials().contains(m))
            .filter(m -> isSpecial(p -> p.materials().contains(m)))
            .map(Material::name);
    return Stream.concat(tools, materials).findFirst();
  }

  private boolean isSpecial(Predicate<Procedure> takesIt) {
    return procedures.stream().filter(takesIt).count() <= FEW_WORKS;
  }

  private Optional<Choice> tool(Procedure procedure, Random random) {
    for (Step step : shuffled(procedure.steps(), random)) {
      for (Tool tool : shuffled(step.tools(), random)) {
        Optional<String> stem = stem("Which tool does this step take?", step, tool.name());
        List<Option> wrong = otherTools(step);
        if (stem.isPresent() && wrong.size() >= WRONG_OPTIONS) {
          Option key = option(tool, true);
          return Optional.of(new Choice(
              procedure.id(), Asks.TOOL, List.of(step.id()), stem.get(), options(key, wrong, random)));
        }
      }
    }
    return Optional.empty();
  }

  private List<Option> otherTools(Step step) {
    Set<String> kinds = step.tools().stream().map(Tool::kind).collect(Collectors.toSet());
    return crib.tools().stream()
        .filter(tool -> !kinds.contains(tool.kind()))
        .map(tool -> option(tool, false))
        .toList();
  }

  private static Option option(Tool tool, boolean right) {
    String what = tool.name().substring(0, 1).toUpperCase(Locale.ROOT) + tool.name().substring(1);
    return new Option(tool.id(), tool.name(), right, sentence(what + ": " + tool.use()));
  }

  private Optional<Choice> caution(Procedure procedure, Random random) {
    List<Caution> called = procedure.cautions();
    List<Option> wrong =
        cautions.all().stream()
            .filter(caution -> !called.contains(caution))
            .map(caution -> new Option(caution.id(), caution.title(), false, "This work does not call for it."))
            .toList();
    for (Step step : shuffled(procedure.steps(), random)) {
      for (Caution caution : shuffled(step.cautions(), random)) {
        Optional<String> stem = stem("Which caution does this step call for?", step, caution.title());
        if (stem.isPresent() && wrong.size() >= WRONG_OPTIONS) {
          Option key = new Option(caution.id(), caution.title(), true, sentence(caution.hazard()));
          return Optional.of(new Choice(
              procedure.id(), Asks.CAUTION, List.of(step.id()), stem.get(), options(key, wrong, random)));
        }
      }
    }
    return Optional.empty();
  }

  /** The question with as much of the step as does not say the answer; empty if even its name does. */
  private static Optional<String> stem(String question, Step step, String answer) {
    if (tells(step.name(), answer)) {
      return Optional.empty();
    }
    boolean all = !tells(step.instruction(), answer);
    return Optional.of(question + " " + step.name() + (all ? ": " + step.instruction() : "."));
  }

  private static boolean tells(String text, String answer) {
    Set<String> stems = wordStems(text);
    return wordStems(answer).stream().anyMatch(stems::contains);
  }

  // the beginnings of the words, so that "springs" tells of a spring hook
  private static Set<String> wordStems(String text) {
    return Stream.of(text.toLowerCase(Locale.ROOT).split("[^a-z]+"))
        .filter(word -> word.length() >= TELLING_LETTERS)
        .map(word -> word.substring(0, TELLING_LETTERS))
        .collect(Collectors.toSet());
  }

  private static Optional<List<Option>> enough(List<Option> wrong, String key) {
    Set<String> texts = new HashSet<>(Set.of(key));
    List<Option> distinct = wrong.stream().filter(o -> texts.add(o.text())).toList();
    return distinct.size() >= WRONG_OPTIONS ? Optional.of(distinct) : Optional.empty();
  }

  private static List<Option> options(Option key, List<Option> wrong, Random random) {
    List<Option> options = new ArrayList<>(shuffled(wrong, random).subList(0, WRONG_OPTIONS));
    options.add(key);
    Collections.shuffle(options, random);
    return options;
  }

  private static <T> List<T> shuffled(List<T> list, Random random) {
    List<T> shuffled = new ArrayList<>(list);
    Collections.shuffle(shuffled, random);
    return shuffled;
  }

  private static String sentence(String text) {
    String stripped = text.strip();
    return stripped.endsWith(".") ? stripped : stripped + ".";
  }
}
