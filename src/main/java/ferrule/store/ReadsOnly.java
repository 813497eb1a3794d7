package ferrule.store;

import java.util.Locale;
import org.jooq.ExecuteContext;
import org.jooq.ExecuteListener;
import org.jooq.ExecuteListenerProvider;
import org.jooq.ExecuteType;
import org.jooq.impl.DefaultExecuteListenerProvider;

/** Refuses what would write or lock rows, in the embedded database too, to which "read only" is but a hint. */
final class ReadsOnly implements ExecuteListener {

  static final ExecuteListenerProvider LISTENER = new DefaultExecuteListenerProvider(new ReadsOnly());

  private static final long serialVersionUID = 1;

  private ReadsOnly() {}

  @Override
  public void renderEnd(ExecuteContext context) {
    String sql = String.valueOf(context.sql());
    if (context.type() != ExecuteType.READ || sql.toLowerCase(Locale.ROOT).contains(" for update")) {
      throw new IllegalStateException("this transaction only reads; it was to do: " + sql);
    }
  }
}
