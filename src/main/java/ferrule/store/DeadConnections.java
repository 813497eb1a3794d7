package ferrule.store;

import com.zaxxer.hikari.SQLExceptionOverride;
import java.sql.SQLException;

/**
 * Has the pool let go of connections to a database that is closed. The embedded one closes itself when its disk is full;
 * its connections then call themselves valid and answer nothing, while a new one opens the file again.
 */
final class DeadConnections implements SQLExceptionOverride {

  @java.lang.Override
  public Override adjudicate(SQLException fault) {
    return StoreTrouble.of(fault).isPresent() ? Override.MUST_EVICT : Override.CONTINUE_EVICT;
  }
}
