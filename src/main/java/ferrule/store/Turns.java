package ferrule.store;

import java.sql.SQLException;
import java.sql.SQLTransientConnectionException;
import java.time.Duration;
import java.util.Comparator;
import java.util.PriorityQueue;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;

/**
 * Who gets one of a pool's connections next, when more ask than there are: whoever's request came first. A page that asks
 * the database thirty times then waits behind the others once; were each time a new one, it would wait thirty times.
 *
 * <p>What a thread asks between {@link #begin} and {@link #end} is of the request that came at the beginning. Whatever else
 * asks comes at the moment when it asks.
 */
public final class Turns {

  private static final ThreadLocal<Long> CAME = new ThreadLocal<>();
  private static final Comparator<Waiter> EARLIEST = (one, other) ->
      one.came == other.came ? Long.compare(one.number, other.number) : Long.signum(one.came - other.came);

  private final ReentrantLock lock = new ReentrantLock();
  private final PriorityQueue<Waiter> waiters = new PriorityQueue<>(EARLIEST);
  private int free;
  private long number;

  /** Turns at so many connections. */
  Turns(int connections) {
    this.free = connections;
  }

  private static final class Waiter {
    private final long came;
    private final long number;
    private final Condition called;
    private boolean isCalled;

    Waiter(long came, long number, Condition called) {
      this.came = came;
      this.number = number;
      this.called = called;
    }
  }

  /** A request has come, which this thread answers. */
  public static void begin() {
    CAME.set(System.nanoTime());
  }

  /** The request that this thread answered is over. */
  public static void end() {
    CAME.remove();
  }

  private static long came() {
    Long came = CAME.get();
    return came == null ? System.nanoTime() : came;
  }

  /**
   * Waits for a turn, at most for so long; {@link #giveBack} ends it.
   *
   * @throws SQLTransientConnectionException if none came
   * @throws SQLException if the thread was interrupted meanwhile, and still is
   */
  void take(Duration most) throws SQLException {
    lock.lock();
    try {
      if (free > 0) { // then nobody waits
        free--;
        return;
      }
      Waiter me = new Waiter(came(), number++, lock.newCondition());
      waiters.add(me);
      if (!isCalled(me, most.toNanos())) {
        throw new SQLTransientConnectionException("all connections were in use for " + most.toSeconds() + " s");
      }
    } finally {
      lock.unlock();
    }
  }

  private boolean isCalled(Waiter me, long nanos) throws SQLException {
    try {
      for (long left = nanos; !me.isCalled && left > 0; ) {
        left = me.called.awaitNanos(left);
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      if (!me.isCalled) {
        throw new SQLException("interrupted while waiting for a connection", e);
      }
    } finally {
      if (!me.isCalled) { // who is called is not among them any more
        waiters.remove(me);
      }
    }
    return me.isCalled;
  }

  /** Ends a turn; the next one begins. */
  void giveBack() {
    lock.lock();
    try {
      Waiter next = waiters.poll();
      if (next == null) {
        free++;
      } else {
        next.isCalled = true;
        next.called.signal();
      }
    } finally {
      lock.unlock();
    }
  }

  /** How many wait for a turn. */
  int waiting() {
    lock.lock();
    try {
      return waiters.size();
    } finally {
      lock.unlock();
    }
  }
}
