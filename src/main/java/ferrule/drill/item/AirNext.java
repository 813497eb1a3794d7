package ferrule.drill.item;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.Level;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.random.RandomGenerator;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * "These valves are pressed, and the air has come to this knuckle. Which does it meet next?", asked of knuckles, slides
 * and through ports.
 *
 * <p>The way is read off the glossary's connections. A piston's through port connects the knuckle by which the air
 * enters the casing with the one by which it leaves; its other ports lead to the knuckles of its slide. A valve that is
 * up sends the air through the through port; one that is down sends it round the slide first. Which leg of a slide the
 * air takes first differs between instruments and is not asked.
 */
public final class AirNext implements Writer {

  private static final int DISTRACTORS = 3;

  private final Parts parts;
  private final List<Stage> stages;

  /**
   * What a casing does with the air.
   *
   * @param entry the knuckle by which it comes in
   * @param through the port that it passes if the valve is up
   * @param slidePorts the ports that lead to the slide
   * @param slide the slide that it goes round if the valve is down
   * @param exit the knuckle by which it leaves
   * @param valve the valve, in a word, such as "third"
   */
  record Stage(
      ConceptId entry, ConceptId through, List<ConceptId> slidePorts, ConceptId slide, ConceptId exit, String valve) {}

  /** A writer over these parts; it has no topics for an instrument without valves. */
  public AirNext(Parts parts) {
    this.parts = parts;
    this.stages = stages(parts.glossary());
  }

  /** The casings in the order in which the air comes to them. */
  static List<Stage> stages(Glossary glossary) {
    List<Stage> found = new ArrayList<>();
    for (Concept port : glossary.concepts()) {
      if (port.level() == Level.REGION && port.connects().size() == 2 && port.partOf().isPresent()) {
        stage(glossary, port).ifPresent(found::add);
      }
    }
    return inOrder(found);
  }

  private static Optional<Stage> stage(Glossary glossary, Concept through) {
    List<Concept> slidePorts =
        glossary.piecesOf(through.partOf().orElseThrow()).stream()
            .filter(p -> p.connects().size() == 1 && p.level() == Level.REGION)
            .toList();
    Optional<ConceptId> slide =
        slidePorts.stream().flatMap(p -> slideBeyond(glossary, p).stream()).findFirst();
    return slide.map(
        s ->
            new Stage(
                through.connects().get(0),
                through.id(),
                slidePorts.stream().map(Concept::id).toList(),
                s,
                through.connects().get(1),
                which(glossary, through)));
  }

  /** Follows the connections from a port until they reach what comes out as a slide. */
  private static Optional<ConceptId> slideBeyond(Glossary glossary, Concept port) {
    Concept at = port;
    for (int steps = 0; steps < 6 && !at.connects().isEmpty(); steps++) {
      at = glossary.get(at.connects().get(0));
      Optional<Concept> assembly =
          glossary.wholesOf(at.id()).stream()
              .filter(w -> w.level() == Level.ASSEMBLY && w.broader().isPresent())
              .findFirst();
      if (assembly.isPresent()) {
        return assembly.map(Concept::id);
      }
    }
    return Optional.empty();
  }

  private static String which(Glossary glossary, Concept port) {
    return port.qualifiers().entrySet().stream()
        .flatMap(q -> glossary.facet(q.getKey()).stream().flatMap(f -> f.value(q.getValue()).stream()))
        .map(v -> v.term())
        .findFirst()
        .orElse("");
  }

  private static List<Stage> inOrder(List<Stage> stages) {
    List<Stage> ordered = new ArrayList<>();
    Optional<Stage> next =
        stages.stream().filter(s -> stages.stream().noneMatch(o -> o.exit().equals(s.entry()))).findFirst();
    while (next.isPresent()) {
      Stage stage = next.get();
      ordered.add(stage);
      next = stages.stream().filter(s -> s.entry().equals(stage.exit()) && !ordered.contains(s)).findFirst();
    }
    return ordered;
  }

  /** Where the air has come to in a casing. */
  private enum At {
    ENTRY,
    ROUND_THE_SLIDE,
    AT_THE_PISTON
  }

  /** Each casing, each place in it, and each choice of valves with which the air comes by there. */
  @Override
  public List<Topic> topics() {
    List<Topic> topics = new ArrayList<>();
    for (int i = 0; i < stages.size(); i++) {
      for (At at : At.values()) {
        for (int pressed = 0; pressed < 1 << stages.size(); pressed++) {
          boolean down = isDown(pressed, i);
          boolean comesBy = at == At.ENTRY || (at == At.ROUND_THE_SLIDE) == down;
          if (comesBy) {
            topics.add(topic(stages.get(i), i, at, pressed));
          }
        }
      }
    }
    return topics;
  }

  private static boolean isDown(int pressed, int stage) {
    return (pressed >> stage & 1) == 1;
  }

  private Topic topic(Stage stage, int index, At at, int pressed) {
    ConceptId key = key(stage, at, isDown(pressed, index));
    Set<ConceptId> homes = new LinkedHashSet<>(Set.of(stage.slide()));
    parts.seen(key).map(Parts.Seen::home).ifPresent(homes::add);
    double hardness = 0.2 * Integer.bitCount(pressed) - 0.3;
    return new Topic(key, "air-" + index + at, index + "/" + at + "/" + pressed, homes, hardness);
  }

  private static ConceptId key(Stage stage, At at, boolean down) {
    return switch (at) {
      case ENTRY -> down ? stage.slide() : stage.exit();
      case ROUND_THE_SLIDE -> stage.exit();
      case AT_THE_PISTON -> stage.through();
    };
  }

  @Override
  public Optional<Draft> write(Topic topic, RandomGenerator random) {
    String[] id = topic.id().split("/");
    int index = Integer.parseInt(id[0]);
    At at = At.valueOf(id[1]);
    int pressed = Integer.parseInt(id[2]);
    Stage stage = stages.get(index);
    List<Kinship.Near> wrong =
        (at == At.AT_THE_PISTON ? ports(stage) : knucklesAndSlides(stage, at))
            .filter(c -> !c.equals(topic.key()))
            .distinct()
            .map(c -> new Kinship.Near(c, isOf(stage, c) ? 2 : 1))
            .sorted(Comparator.comparingDouble(Kinship.Near::nearness).reversed().thenComparing(Kinship.Near::part))
            .toList();
    List<ConceptId> distractors = Kinship.draw(wrong, DISTRACTORS, random);
    if (distractors.size() < DISTRACTORS) {
      return Optional.empty();
    }
    String because = because(stage, isDown(pressed, index));
    List<Option> options = new ArrayList<>();
    distractors.forEach(d -> options.add(new Option(d.value(), parts.term(d), false, because)));
    options.add(new Option(topic.key().value(), parts.term(topic.key()), true, because));
    return Optional.of(
        new Draft(
            topic.key(),
            Optional.of(stage.entry()).filter(entry -> at == At.ENTRY && parts.seen(entry).isPresent()),
            new Interaction.Choice(
                stem(stage, at, pressed), List.of(), Shuffled.of(options, random))));
  }

  private Stream<ConceptId> ports(Stage own) {
    return Stream.concat(own.slidePorts().stream(), stages.stream().map(Stage::through));
  }

  /** The knuckles between casings and the slides, but where the air is. */
  private Stream<ConceptId> knucklesAndSlides(Stage own, At at) {
    return stages.stream()
        .flatMap(s -> Stream.of(s.entry(), s.exit(), s.slide()))
        .filter(c -> !c.equals(own.entry()) && !(at == At.ROUND_THE_SLIDE && c.equals(own.slide())));
  }

  private static boolean isOf(Stage stage, ConceptId c) {
    return c.equals(stage.slide()) || c.equals(stage.exit()) || stage.slidePorts().contains(c);
  }

  private String stem(Stage stage, At at, int pressed) {
    String valves = pressedInWords(pressed);
    String entry = parts.term(stage.entry());
    return switch (at) {
      case ENTRY -> valves + " The air has come to the " + entry + ". Which of these does it meet next?";
      case ROUND_THE_SLIDE ->
          valves + " The air has gone round the " + parts.term(stage.slide()) + ". Which of these does it meet next?";
      case AT_THE_PISTON ->
          valves + " The air comes through the " + entry + " to the piston. Which port does it pass?";
    };
  }

  private String pressedInWords(int pressed) {
    List<String> down = new ArrayList<>();
    for (int i = stages.size() - 1; i >= 0; i--) {
      if (isDown(pressed, i)) {
        down.add(stages.get(i).valve());
      }
    }
    if (down.isEmpty()) {
      return "No valve is pressed.";
    }
    String last = down.get(down.size() - 1);
    String before = down.subList(0, down.size() - 1).stream().collect(Collectors.joining(", "));
    return down.size() == 1
        ? "The " + last + " valve is pressed."
        : "The " + before + " and " + last + " valves are pressed.";
  }

  private String because(Stage stage, boolean down) {
    return down
        ? "The " + stage.valve() + " valve is down, so the air goes round the " + parts.term(stage.slide())
            + " before it leaves by the " + parts.term(stage.exit()) + "."
        : "The " + stage.valve() + " valve is up, so the air goes straight through the " + parts.term(stage.through())
            + " to the " + parts.term(stage.exit()) + ".";
  }
}
