package ferrule.report;

import ferrule.drill.Answer;
import ferrule.drill.DrillStore;
import ferrule.drill.ItemKind;
import ferrule.drill.PartNames;
import ferrule.drill.Response;
import ferrule.drill.Scored;
import ferrule.drill.item.Interaction;
import ferrule.drill.item.Option;
import ferrule.glossary.ConceptId;
import ferrule.report.items.Distractor;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;

/**
 * What a cohort answered when it was asked about one part, way by way, and how each of these answers performed.
 *
 * @param ways the answers in each way of asking
 */
record AnswersToPart(Map<ItemKind, List<Distractor>> ways) {

  private static final String NO_PART = "nothing that is read as a part";
  private static final String UNKNOWN = "I do not know";

  /**
   * The answers about a part.
   *
   * @param given each person's first in each way of asking
   * @param all the first answers of everybody about every part, from which follows what they know of the rest
   */
  static AnswersToPart of(
      ConceptId part, List<DrillStore.Given> given, List<Scored> all, PartNames names) {
    Map<UUID, Double> rest = rest(part, all);
    Map<ItemKind, List<Distractor.Given>> byKind = new EnumMap<>(ItemKind.class);
    for (DrillStore.Given g : given) {
      OptionalDouble of = rest.containsKey(g.person()) ? OptionalDouble.of(rest.get(g.person())) : OptionalDouble.empty();
      if (!g.response().item().kind().isOrdered()) {
        byKind.computeIfAbsent(g.response().item().kind(), k -> new ArrayList<>()).add(of(g.response(), of, names));
      }
    }
    Map<ItemKind, List<Distractor>> ways = new LinkedHashMap<>();
    byKind.forEach((kind, answers) -> ways.put(kind, Distractor.of(answers)));
    return new AnswersToPart(ways);
  }

  /** Everybody's mean score on the other parts, each counted with the first answer about it. */
  static Map<UUID, Double> rest(ConceptId part, List<Scored> all) {
    Map<UUID, Map<ConceptId, Double>> scores = new HashMap<>();
    all.stream().filter(s -> !s.part().equals(part))
        .forEach(s -> scores.computeIfAbsent(s.person(), p -> new HashMap<>()).putIfAbsent(s.part(), s.credit()));
    return scores.entrySet().stream().collect(Collectors.toMap(
        Map.Entry::getKey, e -> e.getValue().values().stream().mapToDouble(s -> s).average().orElseThrow()));
  }

  private static Distractor.Given of(Response response, OptionalDouble rest, PartNames names) {
    if (response.item().interaction() instanceof Interaction.Choice choice) {
      String chosen = response.answer() instanceof Answer.Chosen c
          ? c.option().flatMap(choice::option).map(Option::text).orElse(UNKNOWN) : UNKNOWN;
      return new Distractor.Given(
          chosen, choice.options().stream().map(Option::text).collect(Collectors.toSet()), Set.of(choice.key().text()), rest);
    }
    String right = names.term(response.item().key());
    String none = response.typed().filter(text -> !text.isEmpty()).isPresent() ? NO_PART : UNKNOWN;
    String answer = response.now().credit() > 0 ? right : response.now().takenFor().map(names::term).orElse(none);
    return new Distractor.Given(answer, Set.of(), Set.of(right), rest);
  }
}
