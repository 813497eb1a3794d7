package ferrule.store;

import static ferrule.store.jooq.Tables.COHORT;
import static ferrule.store.jooq.Tables.PERSON;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.time.Instant;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import java.util.function.Consumer;
import org.jooq.DSLContext;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class ReadingTest {

  private static void addPerson(DSLContext dsl, String name) {
    dsl.insertInto(PERSON)
        .set(PERSON.ID, UUID.randomUUID())
        .set(PERSON.SIGN_IN_NAME, name)
        .set(PERSON.FULL_NAME, name)
        .set(PERSON.ROLE, "apprentice")
        .set(PERSON.CREATED_AT, Instant.EPOCH)
        .execute();
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void allThatIsReadIsAsOfOneMomentWhileOthersWrite(Database database) {
    try (database) {
      Integer seen = database.reading(dsl -> {
        dsl.fetchCount(COHORT);
        // another table than the one that was read: a snapshot of all tables, not of each when it is first read
        CompletableFuture.runAsync(() -> database.transact(other -> addPerson(other, "wren"))).join();
        return dsl.fetchCount(PERSON);
      });
      assertEquals(Integer.valueOf(0), seen);
      assertEquals(Integer.valueOf(1), database.reading(dsl -> dsl.fetchCount(PERSON)));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void whateverWritesOrLocksIsRefused(Database database) {
    try (database) {
      List<Consumer<DSLContext>> refused = List.of(
          dsl -> addPerson(dsl, "wren"),
          dsl -> dsl.update(PERSON).set(PERSON.FULL_NAME, "x").execute(),
          dsl -> dsl.batch(dsl.deleteFrom(PERSON)).execute(),
          dsl -> dsl.execute("delete from person"),
          dsl -> dsl.selectFrom(PERSON).forUpdate().fetch());
      for (Consumer<DSLContext> work : refused) {
        assertThrows(IllegalStateException.class, () -> database.reading(dsl -> {
          work.accept(dsl);
          return true;
        }));
      }
      // the same connections write again
      database.transact(dsl -> addPerson(dsl, "wren"));
      database.transact(dsl -> assertEquals("wren", dsl.selectFrom(PERSON).forUpdate().fetchSingle().getFullName()));
    }
  }
}
