package ferrule.report;

import static org.junit.jupiter.api.Assertions.assertEquals;

import ferrule.competency.AsOf;
import ferrule.drill.ConfusionStore;
import ferrule.drill.MixUp;
import ferrule.glossary.ConceptId;
import ferrule.people.Cohort;
import ferrule.store.Database;
import java.time.LocalDate;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** What a class mixes up, recounted from the plain facts of random histories. */
class ConfusionIT {

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void everyMixUpIsCountedAsItWasJudgedThen(Database database) {
    RandomHistory history = RandomHistory.of(database, 21);
    RawRecords raw = history.raw();
    ConfusionStore store = new ConfusionStore(database);
    for (Cohort cohort : history.cohorts()) {
      List<UUID> people = raw.memberships.stream().filter(m -> m.cohort().equals(cohort.id()))
          .map(RawRecords.Membership::person).distinct().toList();
      for (var at : history.moments(6)) {
        AsOf asOf = history.desk().asOf(Optional.of(LocalDate.ofInstant(at, RandomHistory.ZONE).toString()));
        Map<ConceptId, Integer> answers = new LinkedHashMap<>();
        Map<List<ConceptId>, Integer> times = new LinkedHashMap<>();
        Map<List<ConceptId>, Set<UUID>> by = new LinkedHashMap<>();
        for (RawRecords.Answered a : raw.answered) {
          if (people.contains(a.person()) && a.kind().asksForName() && !a.at().isAfter(asOf.instant())) {
            answers.merge(a.part(), 1, Integer::sum);
            raw.takenFor(a, asOf.instant()).ifPresent(other -> {
              times.merge(List.of(a.part(), other), 1, Integer::sum);
              by.computeIfAbsent(List.of(a.part(), other), k -> new HashSet<>()).add(a.person());
            });
          }
        }
        assertEquals(answers, store.answers(people, asOf.instant()));
        Map<List<ConceptId>, MixUp> found = new LinkedHashMap<>();
        store.mixUps(people, asOf.instant()).forEach(m -> found.put(List.of(m.asked(), m.takenFor()), m));
        assertEquals(times.keySet(), found.keySet());
        times.forEach((two, n) -> {
          assertEquals(n, found.get(two).times());
          assertEquals(by.get(two).size(), found.get(two).people());
        });
      }
    }
  }
}
