package ferrule.people;

import com.nimbusds.jose.JOSEException;
import com.nimbusds.jose.JWSAlgorithm;
import com.nimbusds.jose.proc.BadJOSEException;
import com.nimbusds.jose.util.DefaultResourceRetriever;
import com.nimbusds.oauth2.sdk.AuthorizationCode;
import com.nimbusds.oauth2.sdk.AuthorizationCodeGrant;
import com.nimbusds.oauth2.sdk.GeneralException;
import com.nimbusds.oauth2.sdk.ParseException;
import com.nimbusds.oauth2.sdk.ResponseType;
import com.nimbusds.oauth2.sdk.Scope;
import com.nimbusds.oauth2.sdk.TokenRequest;
import com.nimbusds.oauth2.sdk.auth.ClientAuthentication;
import com.nimbusds.oauth2.sdk.auth.ClientAuthenticationMethod;
import com.nimbusds.oauth2.sdk.auth.ClientSecretBasic;
import com.nimbusds.oauth2.sdk.auth.ClientSecretPost;
import com.nimbusds.oauth2.sdk.auth.Secret;
import com.nimbusds.oauth2.sdk.http.HTTPRequest;
import com.nimbusds.oauth2.sdk.id.ClientID;
import com.nimbusds.oauth2.sdk.id.Issuer;
import com.nimbusds.oauth2.sdk.id.State;
import com.nimbusds.oauth2.sdk.pkce.CodeChallengeMethod;
import com.nimbusds.oauth2.sdk.pkce.CodeVerifier;
import com.nimbusds.openid.connect.sdk.AuthenticationErrorResponse;
import com.nimbusds.openid.connect.sdk.AuthenticationRequest;
import com.nimbusds.openid.connect.sdk.AuthenticationResponse;
import com.nimbusds.openid.connect.sdk.AuthenticationResponseParser;
import com.nimbusds.openid.connect.sdk.AuthenticationSuccessResponse;
import com.nimbusds.openid.connect.sdk.Nonce;
import com.nimbusds.openid.connect.sdk.OIDCTokenResponse;
import com.nimbusds.openid.connect.sdk.OIDCTokenResponseParser;
import com.nimbusds.openid.connect.sdk.claims.IDTokenClaimsSet;
import com.nimbusds.openid.connect.sdk.op.OIDCProviderMetadata;
import com.nimbusds.openid.connect.sdk.validators.IDTokenValidator;
import java.io.IOException;
import java.net.HttpURLConnection;
import java.net.URI;
import java.net.URL;
import java.util.List;
import java.util.Optional;

/**
 * Talks to a school's OpenID provider: the authorization code flow with PKCE (OpenID Connect Core 1.0, 3.1; RFC 7636),
 * the provider's answer bound to this browser by a state and to this request by a nonce.
 */
public final class SchoolDesk {

  private static final int CONNECT_MILLIS = 5_000;
  private static final int READ_MILLIS = 10_000;
  private static final int LARGEST_ANSWER = 200_000;

  private final SchoolProvider provider;
  // asked for once: what a provider says about itself hardly ever changes
  private volatile OIDCProviderMetadata metadata;

  /** A desk for this provider; nothing is asked of it before somebody comes. */
  public SchoolDesk(SchoolProvider provider) {
    this.provider = provider;
  }

  /** The provider. */
  public SchoolProvider provider() {
    return provider;
  }

  /**
   * Who somebody is at the school.
   *
   * @param subject by which the provider names them for good
   * @param name the claim that is their name here, if one is configured and told
   */
  public record Identity(String issuer, String subject, Optional<String> name) {}

  /** That the provider could not be asked, or that its answer does not hold. */
  public static final class Failure extends Exception {

    private static final long serialVersionUID = 1L;

    Failure(String message, Throwable cause) {
      super(message, cause);
    }
  }

  /** What a way to the provider is remembered by until it comes back. */
  public record Request(String state, String nonce, String verifier) {

    /** With new random values. */
    public static Request random() {
      return new Request(Secrets.token(), Secrets.token(), Secrets.token());
    }
  }

  /** The address at the provider to which a browser is sent. */
  public URI address(Request request, URI back) throws Failure {
    OIDCProviderMetadata known = known();
    return new AuthenticationRequest.Builder(
            new ResponseType(ResponseType.Value.CODE), scope(), new ClientID(provider.clientId()), back)
        .endpointURI(known.getAuthorizationEndpointURI())
        .state(new State(request.state()))
        .nonce(new Nonce(request.nonce()))
        .codeChallenge(new CodeVerifier(request.verifier()), CodeChallengeMethod.S256)
        .build()
        .toURI();
  }

  private Scope scope() {
    return provider.nameClaim().isPresent() ? new Scope("openid", "profile", "email") : new Scope("openid");
  }

  private OIDCProviderMetadata known() throws Failure {
    OIDCProviderMetadata asked = metadata;
    if (asked == null) {
      try {
        asked = OIDCProviderMetadata.resolve(new Issuer(provider.issuer()), SchoolDesk::bound);
      } catch (GeneralException | IOException e) {
        throw new Failure("the OpenID provider " + provider.issuer() + " does not answer", e);
      }
      metadata = asked;
    }
    return asked;
  }

  /** It waits for so long, and goes nowhere but where it was sent: what it carries is for the provider alone. */
  private static void bound(HTTPRequest http) {
    http.setConnectTimeout(CONNECT_MILLIS);
    http.setReadTimeout(READ_MILLIS);
    http.setFollowRedirects(false);
  }

  /** Reads the provider's keys, from where it says that they are. */
  private static final class Keys extends DefaultResourceRetriever {

    Keys() {
      super(CONNECT_MILLIS, READ_MILLIS, LARGEST_ANSWER);
    }

    @Override
    protected HttpURLConnection openHTTPConnection(URL url) throws IOException {
      HttpURLConnection connection = super.openHTTPConnection(url);
      connection.setInstanceFollowRedirects(false);
      return connection;
    }
  }

  /**
   * Who came back from the provider.
   *
   * @param answered the whole address at which the browser came back
   * @param back the address without its query, as it was given to {@link #address}
   * @return empty if they turned back there
   */
  public Optional<Identity> identity(URI answered, URI back, Request request) throws Failure {
    try {
      AuthenticationResponse response = AuthenticationResponseParser.parse(answered);
      if (!new State(request.state()).equals(response.getState())) {
        throw new Failure("the answer has another state", null);
      }
      if (response.getIssuer() != null && !response.getIssuer().getValue().equals(provider.issuer().toString())) {
        throw new Failure("the answer comes from " + response.getIssuer(), null);
      }
      if (response instanceof AuthenticationErrorResponse) {
        return Optional.empty();
      }
      AuthorizationCode code = ((AuthenticationSuccessResponse) response).getAuthorizationCode();
      return Optional.of(read(exchange(code, back, request), request));
    } catch (ParseException | IOException | BadJOSEException | JOSEException e) {
      throw new Failure("the answer of the OpenID provider does not hold: " + e.getMessage(), e);
    }
  }

  private OIDCTokenResponse exchange(AuthorizationCode code, URI back, Request request)
      throws Failure, ParseException, IOException {
    AuthorizationCodeGrant grant = new AuthorizationCodeGrant(code, back, new CodeVerifier(request.verifier()));
    ClientID client = new ClientID(provider.clientId());
    URI endpoint = known().getTokenEndpointURI();
    TokenRequest asked =
        provider.secret().isPresent()
            ? new TokenRequest.Builder(endpoint, authentication(client), grant).build()
            : new TokenRequest.Builder(endpoint, client, grant).build();
    HTTPRequest http = asked.toHTTPRequest();
    bound(http);
    var answer = OIDCTokenResponseParser.parse(http.send());
    if (!answer.indicatesSuccess()) {
      throw new Failure("the OpenID provider refuses: " + answer.toErrorResponse().getErrorObject(), null);
    }
    return (OIDCTokenResponse) answer.toSuccessResponse();
  }

  private ClientAuthentication authentication(ClientID client) throws Failure {
    Secret secret = new Secret(provider.secret().orElseThrow());
    List<ClientAuthenticationMethod> taken = known().getTokenEndpointAuthMethods();
    // basic is what a provider takes that names none (OpenID Connect Discovery 1.0, 3)
    boolean basic = taken == null || taken.contains(ClientAuthenticationMethod.CLIENT_SECRET_BASIC);
    return basic ? new ClientSecretBasic(client, secret) : new ClientSecretPost(client, secret);
  }

  private Identity read(OIDCTokenResponse tokens, Request request) throws Failure, BadJOSEException, JOSEException {
    OIDCProviderMetadata known = known();
    IDTokenValidator validator;
    try {
      validator =
          new IDTokenValidator(
              known.getIssuer(), new ClientID(provider.clientId()), algorithm(known), known.getJWKSetURI().toURL(),
              new Keys());
    } catch (IOException e) {
      throw new Failure("the OpenID provider's keys have no address", e);
    }
    IDTokenClaimsSet claims = validator.validate(tokens.getOIDCTokens().getIDToken(), new Nonce(request.nonce()));
    return new Identity(
        claims.getIssuer().getValue(), claims.getSubject().getValue(),
        provider.nameClaim().map(claims::getStringClaim));
  }

  private static JWSAlgorithm algorithm(OIDCProviderMetadata known) {
    List<JWSAlgorithm> offered = known.getIDTokenJWSAlgs();
    if (offered == null || offered.contains(JWSAlgorithm.RS256)) {
      return JWSAlgorithm.RS256; // every provider has it (OpenID Connect Discovery 1.0, 3)
    }
    return offered.stream().filter(JWSAlgorithm.Family.SIGNATURE::contains).findFirst().orElse(JWSAlgorithm.RS256);
  }
}
