package ferrule.report;

import static org.junit.jupiter.api.Assertions.assertEquals;

import ferrule.drill.ItemKind;
import ferrule.drill.PartNames;
import ferrule.drill.Scored;
import ferrule.glossary.ConceptId;
import ferrule.people.Cohort;
import ferrule.report.items.Distractor;
import ferrule.store.Database;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The figures of questions and of the answers to them, recounted from the plain facts of random histories. */
class QuestionFiguresIT {

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void everyFigureIsThatOfTheFirstAnswersAsTheyCountNow(Database database) {
    RandomHistory history = RandomHistory.of(database, 31, 700);
    RawRecords raw = history.raw();
    Instant now = history.clock().instant();
    for (Cohort cohort : history.cohorts()) {
      List<UUID> set = raw.set.stream().filter(s -> s.cohort().equals(cohort.id())).map(RawRecords.Set::assignment).toList();
      Set<UUID> sittings = new HashSet<>();
      raw.sat.stream().filter(s -> s.assignment().filter(set::contains).isPresent()).forEach(s -> sittings.add(s.sitting()));
      Map<List<Object>, RawRecords.Answered> first = new LinkedHashMap<>();
      raw.answered.stream().filter(a -> sittings.contains(a.sitting()) && a.kind().asksAboutPart())
          .forEach(a -> first.putIfAbsent(List.of(a.person(), a.kind(), a.part()), a));
      Set<Scored> expected = new HashSet<>();
      first.values().forEach(a -> expected.add(new Scored(a.person(), a.kind(), a.part(), raw.credit(a, now))));
      List<Scored> all = history.drills().firstAnswers(set);
      assertEquals(expected, new HashSet<>(all));
      assertEquals(expected.size(), all.size());
      for (ConceptId part : all.stream().map(Scored::part).distinct().toList()) {
        checkAnswers(history, part, set, all, first.values().stream().filter(a -> a.part().equals(part)).toList());
      }
    }
  }

  private static void checkAnswers(
      RandomHistory history, ConceptId part, List<UUID> set, List<Scored> all, List<RawRecords.Answered> plain) {
    Instant now = history.clock().instant();
    AnswersToPart answers =
        AnswersToPart.of(part, history.drills().firstAnswersAbout(part, set), all, new PartNames(RandomHistory.TRUMPET));
    Map<UUID, List<Double>> others = new LinkedHashMap<>();
    Set<List<Object>> seen = new HashSet<>();
    for (Scored s : all) {
      if (!s.part().equals(part) && seen.add(List.of(s.person(), s.part()))) {
        others.computeIfAbsent(s.person(), p -> new ArrayList<>()).add(s.credit());
      }
    }
    for (Map.Entry<ItemKind, List<Distractor>> way : answers.ways().entrySet()) {
      List<RawRecords.Answered> those = plain.stream().filter(a -> a.kind() == way.getKey()).toList();
      assertEquals(those.size(), way.getValue().stream().mapToInt(Distractor::chosen).sum());
      long right = way.getKey().isChosen()
          ? those.stream().filter(a -> a.chosen().equals(a.key())).count()
          : those.stream().filter(a -> history.raw().credit(a, now) > 0).count();
      assertEquals(right, way.getValue().stream().filter(Distractor::right).mapToInt(Distractor::chosen).sum());
      if (!way.getKey().isChosen()) {
        for (Distractor d : way.getValue()) {
          if (!d.right()) {
            List<RawRecords.Answered> gave = those.stream()
                .filter(a -> history.raw().credit(a, now) == 0)
                .filter(a -> history.raw().takenFor(a, now).map(new PartNames(RandomHistory.TRUMPET)::term)
                    .orElse(a.phrase().filter(p -> !p.isEmpty()).isPresent() ? "nothing that is read as a part" : "I do not know")
                    .equals(d.answer()))
                .toList();
            assertEquals(gave.size(), d.chosen(), d.answer());
            gave.stream().filter(a -> others.containsKey(a.person()))
                .mapToDouble(a -> others.get(a.person()).stream().mapToDouble(s -> s).average().orElseThrow()).average()
                .ifPresent(mean -> assertEquals(mean, d.rest().orElseThrow(), 1e-9));
          }
        }
      }
    }
  }
}
