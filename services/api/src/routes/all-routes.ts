import type { Route } from '../http/route.js';
import { addArchive, readCustomerArchive, readOrderArchive } from './archives/archives.js';
import { acceptItems, readWithin } from './batches/accept.js';
import { listBatchItems } from './batches/batch-items.js';
import { addBatch, listBatches, readBatch, tryRules } from './batches/batches.js';
import { declineItems, reopenItems } from './batches/decline.js';
import { readReach } from './batches/reach.js';
import { retryBatch } from './batches/retry-batch.js';
import { cancelBatch, pauseBatch, resumeBatch } from './batches/steer-batch.js';
import { beginOrderUpload, beginStationUpload, beginUpload } from './casts/begin-upload.js';
import { addCast, changeCast, readCast } from './casts/casts.js';
import { addPart, dropUpload, readUpload } from './casts/continue-upload.js';
import { finishUpload } from './casts/finish-upload.js';
import { guessSide } from './casts/guess-side.js';
import { listCasts } from './casts/list-casts.js';
import { addOwnRules } from './casts/own-rules.js';
import { addPhoto, readPhoto } from './casts/photos.js';
import { scanAgain } from './casts/scan-again.js';
import { addComparison, readComparison, readComparisonFile } from './comparisons/comparisons.js';
import { addCustomer, changeCustomer, erase, listCustomers, readCustomer } from './customers/customers.js';
import { readHistory } from './customers/history.js';
import { events } from './jobs/events.js';
import { cancelJob, listJobs, readJob, retryJob } from './jobs/jobs.js';
import { countArrivals, listArrivals } from './orders/list-arrivals.js';
import { listOrders } from './orders/list-orders.js';
import { addOrder, changeOrder, readOrder } from './orders/orders.js';
import { firstAccount } from './people/first-account.js';
import { addPerson, changePassword, changePerson, listPeople } from './people/people.js';
import { readSession, signIn, signOut } from './people/session.js';
import { addToken, listTokens, revokeToken } from './people/tokens.js';
import { approve, listApprovals } from './revisions/approvals.js';
import { readFile } from './revisions/files.js';
import { readPicture } from './revisions/pictures.js';
import { addRevision, listRevisions, readRevision } from './revisions/revisions.js';
import { addRules, checkRules, compareRules, listRules, readRules, readRulesSchema } from './rules/rules.js';
import { addScannerCheck } from './scanners/scanner-checks.js';
import { addScanner, changeScanner, listScanners, readScanner } from './scanners/scanners.js';
import { readFirstSteps, readSampleScan } from './samples/first-steps.js';
import { listAudit } from './upkeep/audit.js';
import { health } from './upkeep/health.js';
import { metrics } from './upkeep/metrics.js';
import { openapi } from './upkeep/openapi.js';
import { ready } from './upkeep/ready.js';

/** Every route of the API, in the order in which they are tried. */
export const ROUTES: readonly Route[] = [
  health, ready, metrics, openapi, listAudit,
  firstAccount, signIn, readSession, signOut, listPeople, addPerson, changePerson, changePassword, listTokens, addToken, revokeToken,
  listCustomers, addCustomer, readCustomer, changeCustomer, readHistory, erase,
  listArrivals, countArrivals, scanAgain, readFirstSteps, readSampleScan,
  listOrders, addOrder, readOrder, changeOrder, addCast,
  listCasts, readCast, changeCast, addOwnRules, addPhoto, readPhoto, beginUpload, beginOrderUpload, beginStationUpload, readUpload, addPart, dropUpload, guessSide, finishUpload,
  listRevisions, addRevision, readRevision, readFile, readPicture, approve, listApprovals,
  readOrderArchive, readCustomerArchive, addArchive,
  addComparison, readComparison, readComparisonFile,
  listScanners, addScanner, readScanner, changeScanner, addScannerCheck,
  listJobs, readJob, cancelJob, retryJob, events,
  listRules, readRulesSchema, readRules, addRules, compareRules, checkRules, tryRules,
  listBatches, addBatch, readBatch, listBatchItems, pauseBatch, resumeBatch, cancelBatch, retryBatch, readReach, readWithin, acceptItems, declineItems, reopenItems,
];
