package ferrule.store;

import java.util.concurrent.locks.ReentrantLock;
import java.util.function.Supplier;
import org.jooq.ExecuteContext;
import org.jooq.ExecuteListener;
import org.jooq.ExecuteType;

/**
 * Lets one writer at a time into an embedded database. The database itself would let several in, but what it has in its
 * file when the program is killed is then not always what it said was committed: transactions that it had acknowledged
 * were missing, or there by half. Readers never wait here.
 */
final class OneWriter implements ExecuteListener {

  private static final long serialVersionUID = 1;
  private static final String ALONE = OneWriter.class.getName();

  // fair, so that nobody waits for long while others come and go
  private final transient ReentrantLock lock = new ReentrantLock(true);

  /** Does a whole transaction while nobody else writes. */
  <T> T alone(Supplier<T> transaction) {
    lock.lock();
    try {
      return transaction.get();
    } finally {
      lock.unlock();
    }
  }

  /** A statement outside a transaction is one of its own; within one, its writer has the lock already. */
  @Override
  public void start(ExecuteContext context) {
    if (context.type() != ExecuteType.READ) {
      lock.lock();
      context.data(ALONE, true);
    }
  }

  @Override
  public void end(ExecuteContext context) {
    if (context.data(ALONE) != null) {
      context.data().remove(ALONE);
      lock.unlock();
    }
  }
}
