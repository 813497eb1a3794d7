package ferrule.rights;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.store.Database;
import ferrule.store.TextColumns;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/** That of each column of text it is decided what erasing somebody does to it, by the database's own account. */
class ErasureTablesTest {

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void ofEachColumnOfTextItIsDecidedWhatBecomesOfIt(Database database) {
    Set<String> goes = ErasureTables.GONE.stream().map(ErasureTables.Gone::table).collect(Collectors.toSet());
    Set<String> decided = new TreeSet<>(ErasureTables.BY_HAND);
    ErasureTables.EMPTIED.forEach(c -> decided.add(c.table() + "." + c.column()));
    ErasureTables.SEARCHED.forEach(c -> decided.add(c.table() + "." + c.column()));
    ErasureTables.STAYS.forEach(s -> List.of(s.columns().split(" ")).forEach(c -> decided.add(s.table() + "." + c)));
    Set<String> there = new TreeSet<>();
    try (database) {
      TextColumns.in(database).stream().filter(c -> !goes.contains(c.table()) || decided.contains(c.toString()))
          .map(Object::toString).forEach(there::add);
    }
    // rows of other people's devices stay
    assertTrue(there.containsAll(Set.of("device_delivery.words", "device_delivery.statement")), there.toString());
    assertEquals(there, decided, "say in ErasureTables what becomes of these when somebody is erased");
  }

  @Test
  void everyDecisionHasItsReason() {
    Stream.of(
            ErasureTables.GONE.stream().map(ErasureTables.Gone::why),
            ErasureTables.EMPTIED.stream().map(ErasureTables.Emptied::why),
            ErasureTables.SEARCHED.stream().map(ErasureTables.Searched::why),
            ErasureTables.STAYS.stream().map(ErasureTables.Stays::why))
        .flatMap(s -> s).forEach(why -> assertTrue(why.length() > 5, why));
  }

  @ParameterizedTest
  @CsvSource(delimiter = '|', textBlock = """
      Met ROBIN  Quillon today.     | Met X today.
      “Quillon, Robin”, tablet 2    | “X”, tablet 2
      robin-quillon                 | X
      Ask r.quillon7, not r.quillon | Ask X, not r.quillon
      Robinia Quillon and Quillon   | Robinia Quillon and Quillon
      """)
  void aNameIsFoundAsPeopleWriteIt(String text, String replaced) {
    assertEquals(replaced, new Names("Robin Quillon", "r.quillon7").replace(text, "X"));
  }

  @Test
  void oneOrdinaryWordIsNotTakenForAName() {
    Names names = new Names("Bell", "bell");
    assertTrue(names.words().isEmpty());
    assertEquals("The bell is sound.", names.replace("The bell is sound.", "X"));
  }
}
