package ferrule.store;

import java.util.ArrayList;
import java.util.List;
import java.util.Queue;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.function.Function;
import org.jooq.DSLContext;

/**
 * Commits as one transaction what several came with while one was writing into an embedded database: there a commit costs
 * more than what it commits, and only one at a time can be made.
 *
 * <p>Nobody is told that theirs is done before the commit, and each piece of work is kept whole or not at all, whatever
 * becomes of the others: if one of them throws, or the commit fails, each is done anew in a transaction of its own. So it
 * is for work that may be done twice, as under an id that it brings along.
 */
final class Together {

  // so that the first of them do not wait for long
  private static final int MOST = 50;

  private final DSLContext dsl;
  private final OneWriter writer;
  private final Queue<Piece<?>> waiting = new ConcurrentLinkedQueue<>();

  Together(DSLContext dsl, OneWriter writer) {
    this.dsl = dsl;
    this.writer = writer;
  }

  /** Work that somebody waits for. Who has the writer's lock does it, and hands over the result by that lock. */
  private static final class Piece<T> {
    private final Function<DSLContext, T> work;
    private boolean done;
    private T result;
    private Throwable thrown;

    Piece(Function<DSLContext, T> work) {
      this.work = work;
    }

    void workIn(DSLContext transaction) {
      result = work.apply(transaction);
    }

    void aloneIn(DSLContext dsl) {
      try {
        dsl.transaction(configuration -> workIn(configuration.dsl()));
      } catch (RuntimeException | Error e) {
        thrown = e; // for who waits for it
      }
      done = true;
    }

    T outcome() {
      if (thrown instanceof Error error) {
        throw error;
      }
      if (thrown instanceof RuntimeException exception) {
        throw exception;
      }
      return result;
    }
  }

  /** What the work returns, after all that it wrote is committed; if it throws, nothing of it is kept. */
  <T> T commit(Function<DSLContext, T> work) {
    Piece<T> piece = new Piece<>(work);
    waiting.add(piece);
    return writer.alone(
        () -> {
          while (!piece.done) {
            commitSome();
          }
          return piece.outcome();
        });
  }

  private void commitSome() {
    List<Piece<?>> some = new ArrayList<>();
    for (Piece<?> next = waiting.poll(); next != null; next = some.size() < MOST ? waiting.poll() : null) {
      some.add(next);
    }
    if (some.size() == 1 || !areKept(some)) {
      some.forEach(piece -> piece.aloneIn(dsl));
    }
  }

  private boolean areKept(List<Piece<?>> some) {
    try {
      dsl.transaction(configuration -> some.forEach(piece -> piece.workIn(configuration.dsl())));
      some.forEach(piece -> piece.done = true);
      return true;
    } catch (RuntimeException | Error e) {
      return false; // each finds out by itself whether it was theirs
    }
  }
}
